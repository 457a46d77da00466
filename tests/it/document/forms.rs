//! Papers to be filled in by hand: how a template asks for boxes, lines, rows, pages and true-scale drawings.

use perpend::diagnostic::{Diagnostic, Source};
use perpend::document::block::{Block, BlockKind, Inline, Ruled, Tick};
use perpend::document::{Basis, Document, Listing, Templates, Wanted, markdown, set};
use perpend::inference::infer;
use perpend::rulebook::book::Condition;

use super::tiny::{self, book, facts, survey};
use super::{program, washing, written_with};

/// The section whose last line is something else.
fn ending(with: &str) -> Result<Document, Vec<Diagnostic>> {
    let changed = |file: std::sync::Arc<Source>| match file.name.as_str() {
        "section.md" => Source::new("section.md", file.text.replacen("END OF SECTION", with, 1)),
        _ => file,
    };
    let files: Vec<_> = tiny::templates().into_iter().map(changed).collect();
    let templates = Templates::read(&files).expect("templates");
    let book = book(vec![(washing(), Condition::Always)]);
    let (survey, facts) = (survey(&["Q1"]), [facts(Some(0), Some(1), Some(1))]);
    let wanted = Wanted::named(&["section".to_owned()]).expect("a paper");
    written_with(&templates, (&book, &survey, &facts), &wanted).map(|mut set| set.documents.remove(0))
}

const FORM: &str = "END

<!-- page -->

# Form { #form }

Name <blank mm=60>

<!-- rows 8 -->

Table: Answers

| Question | Answer |
| --- | --- |
| Old? | <ticked> yes <tick> no |
| Why? | <room mm=40> |

| Read only |
| --- |
| words |

<!-- figure sketch-grid 40 -->

<!-- figure sketch-grid 40 -->

<!-- figure crack-gauge -->

<!-- page -->

## Next { #next }

Words.
";

fn after_end(document: &Document) -> &[Block] {
    let at = document.blocks.iter().position(|block| matches!(block.kind, BlockKind::End(_)));
    &document.blocks[at.expect("the last line") + 1..]
}

#[test]
fn a_template_asks_for_boxes_lines_rows_and_pages() {
    let document = ending(FORM).expect("a form");
    let blocks = after_end(&document);
    assert!(matches!(blocks[0].kind, BlockKind::NewPage));
    let BlockKind::Paragraph(name) = &blocks[2].kind else { panic!("{blocks:#?}") };
    assert!(
        matches!(&name[1], Inline::Blank(blank) if (blank.width.millimetres() - 60.0).abs() < 1e-9 && blank.line == Ruled::Yes)
    );
    let BlockKind::Table(form) = &blocks[3].kind else { panic!("{blocks:#?}") };
    assert!((form.row.millimetres() - 8.0).abs() < 1e-9);
    assert_eq!(form.rows[0][1][0], Inline::Tick(Tick::Set));
    assert_eq!(form.rows[0][1][1], Inline::Text("\u{a0}yes ".to_owned()), "a box holds on to its word");
    let BlockKind::Table(plain) = &blocks[4].kind else { panic!("{blocks:#?}") };
    assert!(plain.row.millimetres() < 1e-9, "the height holds for one table");
    let ids: Vec<&str> = blocks.iter().map(|block| block.id.as_str()).collect();
    assert_eq!(
        ids,
        [
            "page",
            "form",
            "form.1",
            "form.2",
            "form.3",
            "sketch-grid-40",
            "sketch-grid-40-2",
            "crack-gauge",
            "page-2",
            "next",
            "next.1"
        ]
    );
    let BlockKind::Figure(grid) = &blocks[5].kind else { panic!("{blocks:#?}") };
    assert!((grid.height.millimetres() - 40.0).abs() < 1e-9, "a grid is as high as asked");
}

#[test]
fn the_markdown_of_a_form_shows_its_boxes_and_lines() {
    let text = markdown(&ending(FORM).expect("a form"));
    assert!(text.contains("| Old? | ☑\u{a0}yes ☐\u{a0}no |"), "{text}");
    assert!(text.contains("Name ______\n") && text.contains("| Why? |  |"), "{text}");
    assert!(text.contains("\n---\n"), "{text}");
}

#[test]
fn what_a_form_cannot_hold_is_a_mistake() {
    for wrong in [
        "Name <blank>",
        "Name <blank mm=0>",
        "Name <blank mm=900>",
        "END\n\n<!-- rows tall -->\n\nMore.",
        "END\n\n<!-- figure sketch-grid 0 -->\n\nMore.",
    ] {
        let found = ending(wrong).expect_err(wrong);
        assert_eq!(found[0].code, "DO003", "{wrong}: {found:?}");
    }
}

#[test]
fn papers_not_asked_for_are_not_made_and_those_asked_for_are_as_in_the_set() {
    let book = book(vec![(washing(), Condition::Always)]);
    let (survey, facts) = (survey(&["Q1"]), [facts(Some(0), Some(1), Some(1))]);
    let (outcome, templates, program) = (infer(&book, &survey, &facts), super::templates(), program());
    let basis = Basis {
        book: &book,
        survey: &survey,
        facts: &facts,
        outcome: &outcome,
        templates: &templates,
        program: &program,
        before: None,
    };
    let whole = set(basis, &Wanted::set()).expect("the set").documents;
    for paper in &whole {
        let wanted = Wanted::named(std::slice::from_ref(&paper.name)).expect("a name of the set");
        let (alone, made) =
            perpend::document::set_and_make(basis, &wanted, |made| made.name.clone(), |_| Listing::default())
                .expect("one paper");
        let register = "register".to_owned();
        let expected: Vec<&String> =
            [&paper.name, &register].into_iter().take(if paper.name == register { 1 } else { 2 }).collect();
        assert_eq!(made.iter().collect::<Vec<_>>(), expected, "nothing but the register is made besides");
        if paper.name != register {
            assert_eq!(&alone.documents[0], paper, "it cites the section as in the set");
        }
    }
    assert_eq!(Wanted::named(&["section".to_owned(), "letter".to_owned()]), Err(vec!["letter".to_owned()]));
}
