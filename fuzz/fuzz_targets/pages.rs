//! Any paper is set in its margins, nothing over anything else, or told with the signs that no face holds; its file can
//! be read and has its pages; its file for word processors is known again.
#![no_main]

use libfuzzer_sys::fuzz_target;
use perpend::render::{Left, Pages};
use perpend_fuzz::misplaced;
use perpend_fuzz::paper::{Plan, allowed, most_pages};

fuzz_target!(|plan: Plan| {
    let document = plan.document();
    let pages = Pages::of(&document);
    match pages.laid() {
        Ok(laid) => {
            assert_eq!(misplaced(laid), Vec::<String>::new(), "{}", laid.dump());
            assert!(laid.pages() <= most_pages(&document), "{} pages", laid.pages());
            let file = lopdf::Document::load_mem(&pages.pdf().unwrap()).unwrap();
            assert_eq!(file.get_pages().len(), laid.pages());
        }
        Err(told) => assert!(told.iter().all(|one| allowed().contains(one.code.as_str())), "{told:?}"),
    }
    let word = pages.docx(None, None).unwrap().bytes;
    let again = pages.docx(None, Some(&Left::read(&word).unwrap())).unwrap();
    assert_eq!(again.office, []);
    assert!(again.bytes == word, "written again it is another file");
});
