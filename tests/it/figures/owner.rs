//! The drawings of the owner's sheet: the wall cut away, and the signs.

use perpend::drawing::chart::{CutAway, CutLayer, Finish, Foot, Sign, SignShape, cut_away, signs};
use perpend::drawing::{Drawing, Pattern};
use proptest::prelude::*;

use super::{faults, figure, name};

fn cut_layer(title: &str, pattern: Pattern, share: Option<f64>) -> CutLayer {
    CutLayer { title: title.to_owned(), pattern, share }
}

/// A rendered wall of stone before brick, with its foot in the ground.
fn rendered(finish: Finish) -> CutAway {
    CutAway {
        id: "cut-away-1".to_owned(),
        zones: Some("zone Q1".to_owned()),
        layers: vec![
            cut_layer("lime render", Pattern::Mortar, None),
            cut_layer("rubble sandstone", Pattern::Stone, Some(0.3)),
            cut_layer("common brick", Pattern::Brick, Some(0.2)),
            cut_layer("lime plaster", Pattern::Mortar, None),
        ],
        finish,
        foot: Foot::Ground,
    }
}

fn all_signs() -> Vec<Sign> {
    let titles = ["White powder", "Damp patch", "Crack", "Flakes", "Green growth", "Rust stain"];
    let shapes = SignShape::NAMES.iter().map(|(_, shape)| *shape);
    shapes.zip(titles).map(|(shape, title)| Sign { shape, title: title.to_owned() }).collect()
}

pub(super) fn samples() -> Vec<(&'static str, Drawing)> {
    let bare = CutAway {
        zones: None,
        layers: vec![cut_layer("concrete block", Pattern::Block, Some(0.2))],
        foot: Foot::Above,
        ..rendered(Finish::Bare)
    };
    vec![
        ("cut-away", cut_away(&rendered(Finish::Coat("sol-silicate paint".to_owned()))).unwrap()),
        ("cut-away-bare", cut_away(&bare).unwrap()),
        ("signs", signs("signs-1", &all_signs()).unwrap()),
    ]
}

#[test]
fn a_wall_is_cut_away_by_what_is_known_of_it() {
    let words = |wall: &CutAway| {
        let drawing = cut_away(wall).unwrap();
        let texts = drawing.texts().iter().map(|(text, _)| text.words.clone()).collect::<Vec<_>>();
        (drawing.caption, texts)
    };
    let (caption, texts) = words(&rendered(Finish::Open));
    assert_eq!(
        caption,
        "Rain and the ground bring damp in. It dries out through the face, so nothing tight may go on it."
    );
    assert!(texts.starts_with(
        &["lime render", "rubble sandstone", "common brick", "lime plaster"].map(str::to_owned)
    ));
    let (caption, texts) = words(&CutAway { foot: Foot::Above, ..rendered(Finish::Bare) });
    assert_eq!(caption, "Rain brings damp in. It dries out through the face, so the face stays bare.");
    assert!(!texts.concat().contains("ground"), "{texts:?}");
    let unknown = CutAway { layers: Vec::new(), ..rendered(Finish::Open) };
    assert_eq!(cut_away(&unknown), None, "layers that nobody knows");
    let render = CutAway { layers: rendered(Finish::Open).layers[..1].to_vec(), ..rendered(Finish::Open) };
    assert_eq!(cut_away(&render), None, "a wall has masonry");
    assert_eq!(signs("signs-1", &[]), None);
    let one = signs("signs-1", &all_signs()[..1]).unwrap();
    assert_eq!(one.alt, "Drawn on pieces of wall: white powder.");
}

fn any_wall() -> impl Strategy<Value = CutAway> {
    let pattern = prop_oneof![
        Just(Pattern::Brick),
        Just(Pattern::Block),
        Just(Pattern::Stone),
        Just(Pattern::Mortar),
        Just(Pattern::Plain)
    ];
    let share = prop::option::weighted(0.6, prop_oneof![12 => 0.01..2.0f64, 1 => figure()]);
    let layer = (name(), pattern, share);
    let layer = layer.prop_map(|(title, pattern, share)| CutLayer { title, pattern, share });
    let finish = prop_oneof![name().prop_map(Finish::Coat), Just(Finish::Bare), Just(Finish::Open)];
    let foot = prop_oneof![Just(Foot::Ground), Just(Foot::Above)];
    (prop::collection::vec(layer, 0..8), finish, foot).prop_map(|(layers, finish, foot)| CutAway {
        layers,
        foot,
        ..rendered(finish)
    })
}

fn any_signs() -> impl Strategy<Value = Vec<Sign>> {
    let shape = prop::sample::select(SignShape::NAMES.map(|(_, shape)| shape).to_vec());
    prop::collection::vec((name(), shape).prop_map(|(title, shape)| Sign { shape, title }), 0..8)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn words_of_the_owners_drawings_keep_apart(wall in any_wall(), shown in any_signs()) {
        for drawing in cut_away(&wall).into_iter().chain(signs("signs-1", &shown)) {
            prop_assert_eq!(faults(&drawing), Vec::<String>::new());
        }
    }
}
