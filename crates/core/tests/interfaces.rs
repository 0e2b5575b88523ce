//! The checks of what fits what, held against published tables: `reference/interfaces.toml`, one bike a row.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a row that cannot be read is to stop the test")]
#![allow(clippy::disallowed_methods, reason = "the rows lie on the disk")]

use witnessmark_core::Build;
use witnessmark_core::build::sample::sample;
use witnessmark_core::check::{self, Case};
use witnessmark_core::compute;
use witnessmark_core::field::Choice;
use witnessmark_core::model::Model;
use witnessmark_core::number::{POST_INSERTION, Side};
use witnessmark_core::part::{RimBead, ShellHold};

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../reference/interfaces.toml");

struct Row(toml::Table);

impl Row {
    fn word(&self, key: &str) -> &str {
        self.0[key].as_str().unwrap()
    }

    fn id(&self) -> &str {
        self.word("id")
    }

    fn fits(&self) -> bool {
        self.0["fits"].as_bool().unwrap()
    }

    fn number(&self, key: &str) -> f64 {
        self.0["inputs"][key].as_float().unwrap()
    }

    fn text(&self, key: &str) -> &str {
        self.0["inputs"][key].as_str().unwrap()
    }
}

#[test]
fn the_checks_say_of_every_row_what_its_table_says() {
    let rows = rows();
    for row in &rows {
        let (check, build) = bike(row);
        let found = objections(check, &build);
        assert_eq!(found.is_empty(), row.fits(), "{}: {check}: {found:#?}", row.id());
    }
    assert!(rows.iter().any(Row::fits) && rows.iter().any(|row| !row.fits()));
}

#[test]
fn every_row_says_how_we_know() {
    for row in rows() {
        assert!(["published", "from memory"].contains(&row.word("kind")), "{}", row.id());
        let seen = row.word("source").contains("seen");
        assert_eq!(
            row.word("kind") == "published",
            seen,
            "{}: what is published was seen: {}",
            row.id(),
            row.word("source")
        );
        assert!(row.word("differs").is_empty(), "{}", row.id());
    }
}

fn rows() -> Vec<Row> {
    let table: toml::Table = std::fs::read_to_string(FILE).unwrap().parse().unwrap();
    table["value"].as_array().unwrap().iter().map(|row| Row(row.as_table().unwrap().clone())).collect()
}

/// The sound sample with this row's parts, and the check that judges them.
fn bike(row: &Row) -> (&'static str, Build) {
    let mut build = sample();
    let parts = &mut build.parts;
    let check = match row.word("of") {
        "tyre on rim" => {
            parts.tyre.make("front").etrto = Some(row.text("tyre").into());
            parts.wheel.make("front").rim_inner_width_mm = Some(row.number("rim_mm").into());
            "fits/tyre_on_rim_width"
        }
        "bead seat" => {
            parts.tyre.make("front").etrto = Some(row.text("tyre").into());
            parts.wheel.make("front").bead_seat_diameter_mm = Some(row.number("seat_mm").into());
            "fits/tyre_on_bead_seat"
        }
        "hookless" => {
            parts.tyre.make("front").etrto = Some(row.text("tyre").into());
            let wheel = parts.wheel.make("front");
            wheel.bead = Some(RimBead::Hookless.into());
            wheel.rim_inner_width_mm = Some(row.number("rim_mm").into());
            "safe/hookless_width"
        }
        "bearing seat" => {
            parts.frame.make("").head_tube_upper_shis = Some(row.text("seat").into());
            parts.headset.make("").upper_bearing_diameter_mm = Some(row.number("bearing_mm").into());
            "fits/bearings_in_head_tube"
        }
        "shell threads" => {
            let hold = |word| ShellHold::from_name(word).unwrap().into();
            parts.frame.make("").shell_threads = Some(hold(row.text("shell")));
            parts.bottom_bracket.make("").hold = Some(hold(row.text("cups")));
            "fits/shell_threads"
        }
        "bearing wall" => {
            parts.bottom_bracket.make("").hold = Some(ShellHold::Pressed.into());
            parts.frame.make("").shell_bore_mm = Some(row.number("bore_mm").into());
            parts.crankset.make("").spindle_diameter_mm = Some(row.number("spindle_mm").into());
            "fits/bearing_wall"
        }
        "flat mount" => {
            parts.fork.make("").brake_mount = Some(row.text("mount").into());
            parts.rotor.make("front").diameter_mm = Some(row.number("rotor_mm").into());
            parts.caliper.make("front").adapter = Some(row.text("adapter").into());
            "fits/native_rotor"
        }
        "shell" => {
            let frame = parts.frame.make("");
            (frame.shell, frame.shell_width_mm) = (Some(row.text("shell").into()), Some(row.number("shell_mm").into()));
            let cups = parts.bottom_bracket.make("");
            (cups.shell, cups.shell_width_mm) = (Some(row.text("cups").into()), Some(row.number("cups_mm").into()));
            "fits/bottom_bracket_in_shell"
        }
        "crown race" => {
            parts.headset.make("").lower_shis = Some(row.text("lower").into());
            parts.fork.make("").crown_race_diameter_mm = Some(row.number("seat_mm").into());
            "fits/crown_race"
        }
        "post in frame" => {
            // Neither post nor frame says more than the rule; the sample's post is cut until so much is inside.
            let inside_mm = inside_mm(&sample());
            let post = build.parts.post.make("");
            (post.shape, post.insertion_min_mm) = (Some(row.text("shape").into()), Some(0.0.into()));
            let length_mm = post.length_mm.as_ref().unwrap().value;
            post.length_mm = Some((length_mm - inside_mm + row.number("inside_mm")).into());
            build.parts.frame.make("").post_insertion_min_mm = Some(0.0.into());
            "fits/post_insertion"
        }
        "chain width" => {
            let chain = parts.chain.make("");
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "speeds are a small whole number"
            )]
            let speeds = row.number("speeds") as u32;
            (chain.speeds, chain.outer_width_mm) = (Some(speeds.into()), Some(row.number("width_mm").into()));
            "fits/chain_width"
        }
        other => panic!("{}: nothing judges «{other}»", row.id()),
    };
    (check, build)
}

/// What the check objects to at its own severity; a lesser word is a matter for the makers' lists.
fn objections(check: &str, build: &Build) -> Vec<String> {
    let model = Model::new(build);
    let worked = compute::work_out(&model);
    let numbers = compute::numbers(&model, &worked);
    let case = Case { model: &model, worked: &worked, numbers: &numbers };
    let severity = check::by_id(check).unwrap().severity();
    check::run_one(check::by_id(check).unwrap(), &case)
        .into_iter()
        .filter(|finding| finding.severity <= severity)
        .map(|finding| finding.what)
        .collect()
}

/// How much of the build's post is in the frame.
fn inside_mm(build: &Build) -> f64 {
    let model = Model::new(build);
    let numbers = compute::numbers(&model, &compute::work_out(&model));
    numbers.of(&POST_INSERTION, Side::None).unwrap().planned.clone().unwrap()
}
