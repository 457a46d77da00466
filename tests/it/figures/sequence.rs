//! Sequences: stages stand under those that they wait for, and hold points over what they hold.

use perpend::drawing::Drawing;
use perpend::drawing::chart::{Sequence, SequenceHold, SequenceStage, sequence};
use proptest::prelude::*;

use super::{faults, name};

fn stage(title: &str, after: &[usize]) -> SequenceStage {
    SequenceStage { title: title.to_owned(), after: after.to_vec() }
}

fn hold(before: usize, words: &str) -> SequenceHold {
    SequenceHold { before, words: words.to_owned() }
}

/// Repair waits for no removal, and both are done before the wall dries.
fn job() -> Sequence {
    Sequence {
        id: "sequence-1".to_owned(),
        stages: vec![
            stage("protect", &[]),
            stage("remove coating", &[0]),
            stage("wash", &[1]),
            stage("repair", &[0]),
            stage("dry", &[2, 3]),
            stage("prime", &[4]),
        ],
        holds: vec![
            hold(1, "HP1 removal trial, Inspector"),
            hold(5, "HP2 dry enough, Inspector"),
            hold(5, "HP3 ground fit, Inspector"),
        ],
    }
}

pub(super) fn samples() -> Vec<(&'static str, Drawing)> {
    vec![("sequence", sequence(&job()).unwrap())]
}

#[test]
fn a_stage_stands_under_what_it_waits_for_and_beside_what_it_does_not() {
    let drawing = sequence(&job()).unwrap();
    let texts = drawing.texts();
    let top = |words: &str| {
        let (_, frame) = texts.iter().find(|(text, _)| text.words == words).unwrap();
        frame.top
    };
    for (at, stage) in job().stages.iter().enumerate() {
        for before in &stage.after {
            assert!(top(&job().stages[*before].title) + 5.0 < top(&stage.title), "{at}");
        }
    }
    assert!((top("wash") - top("repair")).abs() < 0.01, "side by side");
    assert!(top("dry") < top("HP2 dry enough, Inspector") && top("HP3 ground fit, Inspector") < top("prime"));
    assert_eq!(drawing.caption, "From top to bottom: 6 stages, and 3 hold points to be signed on the way.");
    let left = |words: &str| texts.iter().find(|(text, _)| text.words == words).unwrap().1.left;
    assert!(left("wash") < left("repair"), "a line from further up goes down beside what it passes");
    let circle = Sequence { stages: vec![stage("a", &[1]), stage("b", &[0])], ..job() };
    assert_eq!(sequence(&circle), None);
    assert_eq!(sequence(&Sequence { stages: Vec::new(), holds: Vec::new(), ..job() }), None);
}

fn any_sequence() -> impl Strategy<Value = Sequence> {
    let stages =
        prop::collection::vec((name(), prop::collection::vec(any::<prop::sample::Index>(), 0..3)), 0..16);
    let holds = prop::collection::vec((0..18usize, name()), 0..12);
    (stages, holds).prop_map(|(stages, holds)| Sequence {
        stages: stages
            .into_iter()
            .enumerate()
            .map(|(at, (title, after))| {
                let after =
                    if at == 0 { Vec::new() } else { after.iter().map(|index| index.index(at)).collect() };
                SequenceStage { title, after }
            })
            .collect(),
        holds: holds.into_iter().map(|(before, words)| SequenceHold { before, words }).collect(),
        ..job()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn words_of_sequences_keep_apart(work in any_sequence()) {
        let wrong: Vec<String> = sequence(&work).iter().flat_map(faults).collect();
        prop_assert_eq!(wrong, Vec::<String>::new());
    }
}
