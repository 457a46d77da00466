//! Joints: true to size where they can be, and in as many lifts as the depth takes.

use perpend::drawing::chart::{Joint, joint};
use perpend::drawing::{Dash, Drawing, Mark};
use proptest::prelude::*;

use super::{faults, figure, name};

fn raked(depth: f64, lift: Option<f64>) -> Joint {
    let printed = |length: f64| (length, format!("{length}\u{a0}mm"));
    Joint {
        id: "joint-1".to_owned(),
        zones: Some("zones Q2 and Q3".to_owned()),
        depth: printed(depth),
        lift: lift.map(printed),
    }
}

pub(super) fn samples() -> Vec<(&'static str, Drawing)> {
    let deep = Joint { zones: None, ..raked(65.0, None) };
    vec![("joint", joint(&raked(20.0, Some(10.0))).unwrap()), ("joint-deep", joint(&deep).unwrap())]
}

/// Lines between lifts, by how far they stand from the face, in mm on paper.
fn lifts(drawing: &Drawing) -> Vec<f64> {
    let dashed = drawing.marks.iter().filter_map(|mark| match mark {
        Mark::Lines { lines, pen } if pen.dash == Dash::Short => Some(lines),
        _ => None,
    });
    dashed.flatten().map(|line| line[0].x.millimetres() - 16.0).collect()
}

#[test]
fn a_joint_is_drawn_to_size_in_as_many_lifts_as_its_depth_takes() {
    let two = joint(&raked(20.0, Some(10.0))).unwrap();
    assert_eq!(lifts(&two), [10.0]);
    assert_eq!(
        two.caption,
        "Take old mortar out at least 20\u{a0}mm from the face, then fill in lifts of at most 10\u{a0}mm, zones Q2 and Q3."
    );
    let three = joint(&raked(36.0, Some(15.0))).unwrap();
    assert_eq!(lifts(&three), [12.0, 24.0], "no lift is more than 15 mm");
    let deep = joint(&raked(65.0, None)).unwrap();
    assert_eq!(lifts(&deep), Vec::<f64>::new());
    assert_eq!(deep.note, "Not to scale.");
    for nonsense in
        [raked(0.0, None), raked(f64::NAN, None), raked(20.0, Some(-1.0)), raked(500.0, Some(1.0))]
    {
        assert_eq!(joint(&nonsense), None);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn words_of_joints_keep_apart(
        depth in prop_oneof![3 => 1.0..400.0f64, 1 => figure()], lift in prop::option::of(prop_oneof![3 => 1.0..60.0f64, 1 => figure()]),
        words in name(), zones in prop::option::of(name()),
    ) {
        let lift = lift.map(|lift| (lift, words.clone()));
        let drawn = joint(&Joint { zones, depth: (depth, words), lift, ..raked(20.0, None) });
        let wrong: Vec<String> = drawn.iter().flat_map(faults).collect();
        prop_assert_eq!(wrong, Vec::<String>::new());
    }
}
