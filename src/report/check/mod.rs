//! The answer to "is this crop hungry?": causes with what speaks for and against them, what to look
//! at first, and only then a dose.

mod dose;
mod json;
mod words;

pub use json::json;

use super::document::{Block, Document};
use super::explain::cite;
use super::number::{Showing, long_date};
use super::text::Text;
use super::words::Joined;
use crate::calendar::Date;
use crate::catalogue::Signs;
use crate::engine::check::{Answer, SHOWN_CAUSES, Sureness, Verdict};
use crate::season::Season;

/// What a report of a check is made from.
#[derive(Clone, Copy, Debug)]
pub struct Checked<'a> {
    /// What was said, with the catalogue.
    pub season: &'a Season,
    /// The list of signs.
    pub signs: &'a Signs,
    /// The bed.
    pub bed: &'a str,
    /// The crop.
    pub crop: &'a str,
    /// Whether it stands in containers.
    pub containers: bool,
    /// The day.
    pub today: Date,
    /// How amounts are shown.
    pub showing: Showing,
    /// The answer.
    pub answer: &'a Answer<'a>,
}

impl Checked<'_> {
    /// How a source of the catalogue is cited.
    fn cite(&self, id: &str) -> String {
        self.season.catalogue.source(id).map_or_else(|| id.to_owned(), |source| cite(&source))
    }
}

/// The whole answer.
pub fn document(checked: &Checked<'_>) -> Document {
    let mut document = Document::new(format!("Is the {} hungry?", checked.crop));
    document.about = Text::new()
        .plain("Bed ")
        .emphasis(checked.bed)
        .plain(format!(", {}", long_date(checked.today)));
    document.paragraph(headline(checked));
    if checked.answer.told() {
        causes(checked, &mut document);
    } else {
        known(checked, &mut document);
    }
    looks(checked, &mut document);
    dose::add(checked, &mut document);
    document.heading(2, "Look again");
    document.paragraph(Text::new().plain("On ").value(long_date(checked.answer.look_again)).and(
        Text::with_code(
            ", or sooner where it gets worse. Note what you see with `topdress record … --note`, \
             or on paper: what changed is the best evidence there is.",
        ),
    ));
    document
}

/// The answer in one sentence.
fn headline(checked: &Checked<'_>) -> Text {
    if !checked.answer.told() {
        return Text::new().emphasis("Nothing was told of the plants").and(Text::with_code(
            ", so no cause can be put before another. Look at them as below, and ask again with \
             what you see: `--sign oldest-first`, say (`topdress catalogue signs` lists them).",
        ));
    }
    let weighed = &checked.answer.weighed;
    let Some(first) = weighed.first() else { return Text::from("No cause is known.") };
    let name = first.cause.name.as_str();
    let text = Text::new();
    match weighed.sureness {
        Sureness::Unsettled => {
            let close: Vec<&str> = weighed
                .close()
                .take(SHOWN_CAUSES)
                .map(|verdict| verdict.cause.name.as_str())
                .collect();
            match close.as_slice() {
                [_] => text
                    .emphasis("Not settled")
                    .plain(format!(": {name} comes first, but on little evidence.")),
                close => text
                    .emphasis("Not settled")
                    .plain(format!(": it may be {}.", Joined::or(close))),
            }
        }
        sure if first.cause.key == "nitrogen" => {
            let word = if sure == Sureness::Clear { "Clearly" } else { "Probably" };
            text.emphasis(format!("{word} {name}")).plain(".")
        }
        sure => {
            let word = if sure == Sureness::Clear { "Clearly" } else { "Probably" };
            text.plain(format!("{word} ")).emphasis(name.to_owned()).plain(", and not nitrogen.")
        }
    }
}

fn causes(checked: &Checked<'_>, document: &mut Document) {
    document.heading(2, "Causes");
    let shown = checked.answer.weighed.verdicts.iter().take(SHOWN_CAUSES);
    let nitrogen = checked.answer.weighed.of("nitrogen");
    let hidden = |verdict: &&Verdict<'_>| {
        let mut first = checked.answer.weighed.verdicts.iter().take(SHOWN_CAUSES);
        !first.any(|one| one.cause.key == verdict.cause.key)
    };
    for (number, verdict) in (1..).zip(shown.chain(nitrogen.filter(hidden))) {
        let number = if number > SHOWN_CAUSES { "–".to_owned() } else { format!("{number}.") };
        document.heading(
            3,
            Text::new()
                .plain(format!("{number} "))
                .emphasis(verdict.cause.name.clone())
                .dim(format!(" ({})", words::points(verdict.score))),
        );
        evidence(checked, verdict, document);
        document.paragraph(
            Text::new().plain("To tell: ").plain(verdict.cause.look(checked.containers)).plain("."),
        );
        if verdict.cause.key != "nitrogen" {
            document.paragraph(
                Text::new()
                    .plain("If so: ")
                    .plain(verdict.cause.act(checked.containers))
                    .plain("."),
            );
        }
        document.push(Block::Fold(super::document::Fold {
            title: Text::from("What is known of it"),
            anchor: None,
            open: false,
            blocks: vec![Block::List {
                ordered: false,
                items: verdict
                    .cause
                    .facts
                    .iter()
                    .map(|fact| {
                        Text::new()
                            .plain(fact.says.clone())
                            .dim(format!(" – {}", checked.cite(&fact.source)))
                    })
                    .collect(),
            }],
        }));
    }
    document.paragraph(Text::new().dim(format!("Points: {}", checked.cite("hunger-weights"))));
}

/// What the season file and the record tell, where nothing was seen.
fn known(checked: &Checked<'_>, document: &mut Document) {
    let evidence = &checked.answer.evidence;
    if evidence.is_empty() {
        return;
    }
    document.heading(2, "What is known without looking");
    let items = evidence.iter().map(|one| Text::from(words::evidence(checked, one))).collect();
    document.push(Block::List { ordered: false, items });
}

/// What speaks for and against a cause, in plain words, with points that add up to its score.
fn evidence(checked: &Checked<'_>, verdict: &Verdict<'_>, document: &mut Document) {
    let mut items = Vec::new();
    if verdict.cause.prior != 0 {
        let prior = verdict.cause.prior;
        let text = Text::new().plain("to begin with, for how common it is");
        items.push(text.dim(format!(" ({prior:+})")));
    }
    for (word, list) in [("for it", &verdict.speaks_for), ("against it", &verdict.speaks_against)] {
        for (points, one) in list {
            items.push(
                Text::new()
                    .plain(format!("{word}: {}", words::evidence(checked, one)))
                    .dim(format!(" ({points:+})")),
            );
        }
    }
    if verdict.speaks_for.is_empty() && verdict.speaks_against.is_empty() {
        items.push(Text::from("nothing seen speaks for or against it"));
    }
    document.push(Block::List { ordered: false, items });
}

fn looks(checked: &Checked<'_>, document: &mut Document) {
    if checked.answer.looks.is_empty() {
        return;
    }
    document.heading(2, "Before feeding, look at");
    let items = checked.answer.looks.iter();
    let items = items.map(|look| Text::from(look.what(checked.containers))).collect();
    document.push(Block::List { ordered: true, items });
}
