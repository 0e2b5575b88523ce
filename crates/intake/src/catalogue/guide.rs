//! The page that tells what stands in the tables, made from the kinds of part themselves.

use super::heading::write_heading;
use super::{LONGEST_ROW, MOST_ROWS};
use crate::quantity::Dimension;
use std::fmt::Write as _;
use witnessmark_core::catalogue::{Column, columns};
use witnessmark_core::field::{Choice, Field, Kind, Origin};
use witnessmark_core::part::{COMMON_FACTS, KINDS, LONGEST_NAME, PartKind};

/// The page, as Markdown. `docs/catalogue.md` holds it; a test says when it is stale.
pub fn guide() -> String {
    let mut page = introduction();
    page.push_str("## Headings of every kind\n\n");
    table(&mut page, KINDS.first(), |index| index < COMMON_FACTS, true);
    for kind in KINDS {
        let _ = write!(page, "## {}\n\n`{}.csv`, or `[{}.…]` in TOML.\n\n", words(kind), kind.key, kind.key);
        table(&mut page, Some(kind), |index| index >= COMMON_FACTS, false);
    }
    page
}

fn introduction() -> String {
    let origins = Origin::NAMES.join(" · ");
    format!(
        "\
# The catalogue: its tables, heading by heading

<!-- Made from the kinds of part; `WITNESSMARK_WRITE=1 cargo test -p witnessmark-intake --test catalogue` writes it again. -->

```
witnessmark parts import stem.csv              shows what would change, and asks
witnessmark parts import --dry-run stem.csv    shows what would change, and leaves it
witnessmark parts export --kind stem           the stems as a table
witnessmark parts find stem 110 -6             search
```

**A table is one kind of part.** Its file is named for the kind (`stem.csv`, `stem-2027.csv`), or `--kind stem` says it. The
first row holds headings, in any order; each further row is a part. `id` is the one heading that must be there: at most
{LONGEST_NAME} small letters, figures and hyphens, once in the file.

**Cells** are parted by commas, semicolons or tabs. Decimal point or decimal comma; with commas between the cells a decimal
comma stands in quotes. A figure without a unit is in the unit of its heading: write `length (cm)` to give centimetres, or put
the unit behind the figure. Letters are UTF-8, UTF-16 with its mark, or Windows-1252.

**An empty cell says nothing**: what is known stays. `?` says that the fact is not known: what is kept goes.

**Where a fact comes from** stands in `facts from` for the whole part and, for one fact, in a column of its own beside it:
`length from`. It is one of: {origins}. Where nothing is said it is *catalogue*. A fact that is better known than what the
file says of it stays; the list goes from best to worst.

**An import is all or nothing.** Every slip is told with row, column, what was found and what was expected. A part whose
facts change gets a new version; builds keep the version they were made with, and are told. `stock` changes without one.

**Limits**: {MOST_ROWS} parts a file, {} MB a row. Texts that a spreadsheet would take for a formula are written with an
apostrophe before them, which is taken off again on the way in.

**TOML** holds any kinds in one file:

```toml
form = 1

[stem.plain-110]
name = \"Plain stem\"
length = {{ value = 110, from = \"measured here\" }}
angle = -6
stock = 3
```

",
        LONGEST_ROW / 1_048_576
    )
}

fn table(page: &mut String, kind: Option<&'static PartKind>, wanted: impl Fn(usize) -> bool, with_stock: bool) {
    let Some(kind) = kind else { return };
    page.push_str("| heading | holds | meaning |\n|---|---|---|\n");
    if with_stock {
        page.push_str("| id | small letters, figures and hyphens | The part's name among the parts of its kind. |\n");
    }
    for column in columns(kind) {
        let wanted = match column {
            Column::Stock => with_stock,
            Column::Fact(index) => wanted(index),
            Column::From(_) => false,
        };
        if wanted {
            let field = column.field(kind);
            let _ = writeln!(page, "| {} | {} | {} |", write_heading(kind, column), holds(&field), field.says);
        }
    }
    page.push('\n');
}

/// What may stand in a cell, in a few words.
fn holds(field: &Field) -> String {
    let range = || {
        let figure = |value: f64| value.to_string().replace('-', "−");
        format!("{} to {}", figure(field.low), figure(field.high))
    };
    match field.kind {
        Kind::Choice(names) => names.join(" · "),
        Kind::Text => "text".into(),
        Kind::YesNo => "yes · no".into(),
        Kind::Day => "a day, such as 2027-03-14".into(),
        Kind::Count => format!("whole number, {}", range()),
        Kind::Counts => format!("whole numbers parted by semicolons, {}", range()),
        Kind::Lengths | Kind::Angles => format!("figures parted by semicolons, {}", range()),
        kind => match Dimension::of(kind).map(Dimension::unit) {
            Some("") | None => range(),
            Some(unit) => format!("{} {unit}", range()),
        },
    }
}

fn words(kind: &PartKind) -> String {
    let words = super::words(kind);
    let mut signs = words.chars();
    signs.next().map_or_else(String::new, |first| first.to_uppercase().chain(signs).collect())
}
