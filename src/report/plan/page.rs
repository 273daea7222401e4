//! Pages: the season in pictures, the work, and the working of every figure behind a fold.

use rust_decimal::Decimal;

use super::work::{self, by_day};
use super::{NOT_KNOWN, Reported, bed_blocks, cautions, curves, glance, record};
use crate::engine::paths::{self, Located};
use crate::engine::plan::{BedPlan, PlantingPlan};
use crate::engine::shopping;
use crate::engine::trifle;
use crate::quantity::{Kind, round_to};
use crate::report::chart::{Bar, Bars};
use crate::report::document::{Block, Column, Document, Fold, Table};
use crate::report::explain::{Places, Teacher};
use crate::report::number::Scale;
use crate::report::text::Text;

/// The whole season as a page.
pub fn plan_page(reported: &Reported<'_>, places: &Places<'_>) -> Document {
    let beds: Vec<&BedPlan> = reported.plan.beds.iter().collect();
    let mut document = Document::new("Season plan");
    document.about = reported.about();
    document.heading(2, "The season at a glance");
    bars(reported, &beds, &mut document);
    glance::add(reported, &mut document);
    document.heading(2, "What to do, day by day");
    work::add(reported, &mut document);
    for bed in &beds {
        bed_blocks(reported, bed, &mut document);
        curves::add(reported, bed, &mut document);
    }
    record::add(reported, None, &mut document);
    let (certain, possible) = shopping::short_list(reported.season, reported.plan, reported.today);
    crate::report::shopping::add(&certain, &possible, reported.showing, &mut document);
    reported.tell_stock(&mut document);
    cautions::add(reported, &mut document);
    workings(reported, places, &groups(&beds, paths::of_bed), &mut document);
    document
}

/// One bed as a page.
pub fn bed_page(reported: &Reported<'_>, bed: &BedPlan, places: &Places<'_>) -> Document {
    let mut document = Document::new(format!("Bed {}", bed.name));
    document.about = reported.about();
    document.heading(2, "At a glance");
    bars(reported, &[bed], &mut document);
    bed_blocks(reported, bed, &mut document);
    curves::add(reported, bed, &mut document);
    record::add(reported, Some(bed.index), &mut document);
    cautions::add_for(reported, &[bed], &mut document);
    workings(reported, places, &groups(&[bed], paths::of_bed), &mut document);
    document
}

/// The work list as a page: the working of every dose's weight.
pub fn work_page(reported: &Reported<'_>, places: &Places<'_>) -> Document {
    let mut document = work::work(reported);
    let beds: Vec<&BedPlan> = reported.plan.beds.iter().collect();
    let doses = |bed: &BedPlan| {
        let mut all = paths::of_bed(bed);
        let doses: Vec<String> = (0..bed.doses.len()).map(|at| paths::dose_path(bed, at)).collect();
        all.retain(|one| doses.contains(&one.path));
        all
    };
    workings(reported, places, &groups(&beds, doses), &mut document);
    document
}

/// The shopping list as a page: the doses that each weight is made of.
pub fn buy_page(reported: &Reported<'_>) -> Document {
    let answer = shopping::list(reported.season, reported.plan, reported.today);
    let mut document =
        crate::report::shopping::document(&answer, reported.showing, reported.about());
    reported.tell_stock(&mut document);
    let mut made: Vec<(String, Table)> = Vec::new();
    for (date, bed, at) in by_day(reported) {
        let dose = &bed.doses[at];
        let name = dose.ready.name();
        let row = [
            Text::from(date.within(reported.year())),
            Text::from(bed.name.as_str()),
            Text::new().shown(&reported.showing.of(dose.weight.value())),
            Text::from(if dose.certain() { "planned" } else { "if a test asks for it" }),
        ];
        match made.iter_mut().find(|(one, _)| one == name) {
            Some((_, table)) => table.row(row),
            None => {
                let columns = [Column::left("day"), Column::left("bed"), Column::right("weight")];
                let mut table = Table::new(columns.into_iter().chain([Column::left("")]));
                table.row(row);
                made.push((name.to_owned(), table));
            }
        }
    }
    if made.is_empty() {
        return document;
    }
    document.heading(2, "Where the weights come from");
    document.paragraph("What is needed of a material is the sum of these doses.");
    for (name, table) in made {
        let why = crate::report::shopping::reasons(&answer.certain, &name, reported.showing);
        let why = why.into_iter().map(|reason| Block::Paragraph(Text::from(reason)));
        document.push(Block::Fold(Fold {
            title: Text::from(format!("doses of {name}")),
            anchor: Some(format!("buy/{}", crate::season::slug(&name))),
            open: false,
            blocks: std::iter::once(Block::Table(table)).chain(why).collect(),
        }));
    }
    document
}

/// A bar for each planting: its need, what feeds it already, its doses, and what comes of it.
fn bars(reported: &Reported<'_>, beds: &[&BedPlan], document: &mut Document) {
    let plantings: Vec<(&BedPlan, &PlantingPlan)> = beds
        .iter()
        .flat_map(|bed| bed.plantings.iter().map(move |planting| (*bed, planting)))
        .collect();
    if plantings.is_empty() {
        return;
    }
    let largest = plantings.iter().map(|(_, planting)| planting.need.value().base());
    let scale = reported.showing.scale(Kind::Mass, largest);
    let all = plantings.iter().map(|(bed, planting)| bar(bed, planting, &scale)).collect();
    document.push(Block::Bars(Bars {
        title: format!("Nitrogen for each planting, {}", scale.symbol),
        description: "Each bar fills from the left: first what the soil and its earlier care \
                      give, then the doses of this plan. The stroke is the need."
            .to_owned(),
        unit: scale.symbol.to_owned(),
        target: "need".to_owned(),
        parts: vec!["credits".to_owned(), "doses".to_owned()],
        gap: "still short".to_owned(),
        excess: "over".to_owned(),
        bars: all,
    }));
}

fn bar(bed: &BedPlan, planting: &PlantingPlan, scale: &Scale) -> Bar {
    let unit = Decimal::new(1, scale.decimals);
    let value = |base: Decimal| round_to(scale.value(base), unit);
    let need = value(planting.need.value().base());
    let credit = value(planting.credit.value().base());
    let doses = value(planting.given.value().base());
    let left = need - credit - doses;
    // What weighing leaves is no news.
    let trifle = need * trifle::SHARE;
    let place = format!("{}/{}/nitrogen", bed.slug, planting.slug);
    let verdict = if !planting.need_known() {
        Text::from(NOT_KNOWN).linked(&format!("{place}/need"))
    } else if left > trifle && planting.crop.legume {
        // Nobody should feed it more: it has its own source.
        Text::from(format!("{left} from the air")).linked(&format!("{place}/shortfall"))
    } else if left > trifle {
        Text::new().warning(format!("still short {left}")).linked(&format!("{place}/shortfall"))
    } else if left < -trifle {
        Text::from(format!("over {}", -left)).linked(&format!("{place}/surplus"))
    } else {
        Text::from("met").linked(&format!("{place}/given"))
    };
    Bar {
        label: format!("{}, {}", bed.name, planting.crop.name),
        target: need,
        parts: vec![credit, doses],
        verdict,
    }
}

/// The figures of each bed under its name.
fn groups(
    beds: &[&BedPlan],
    figures: impl Fn(&BedPlan) -> Vec<Located>,
) -> Vec<(String, Vec<Located>)> {
    let groups = beds.iter().map(|bed| (bed.name.clone(), figures(bed)));
    groups.filter(|(_, figures)| !figures.is_empty()).collect()
}

/// The working of every figure, each behind a fold that its path leads to.
fn workings(
    reported: &Reported<'_>,
    places: &Places<'_>,
    groups: &[(String, Vec<Located>)],
    document: &mut Document,
) {
    if groups.is_empty() {
        return;
    }
    let mut teacher = Teacher::new(reported.showing, *places);
    for one in groups.iter().flat_map(|(_, figures)| figures) {
        teacher.elsewhere(&one.path, &one.step);
    }
    document.heading(2, "Where the figures come from");
    document.paragraph(
        "Open a line to see the sum behind it; a figure in a sum leads to its own working.",
    );
    for (name, figures) in groups {
        let folds = figures.iter().map(|one| working(reported, &mut teacher, one));
        document.push(Block::Fold(Fold {
            title: Text::new().emphasis(name.clone()),
            anchor: None,
            open: false,
            blocks: folds.collect(),
        }));
    }
    let mut blocks = Vec::new();
    if teacher.names_lines() {
        let text = Text::from("Lines are those of ").code(places.file).plain(".");
        blocks.push(Block::Paragraph(text));
    }
    blocks.push(Block::Steps(teacher.legend()));
    document.push(Block::Fold(Fold {
        title: Text::new().emphasis("Rules and sources"),
        anchor: None,
        open: false,
        blocks,
    }));
}

fn working(reported: &Reported<'_>, teacher: &mut Teacher<'_>, one: &Located) -> Block {
    // The bed's name stands above.
    let tail = one.path.split_once('/').map_or(one.path.as_str(), |(_, tail)| tail);
    let shown = reported.showing.amount(one.step.amount);
    Block::Fold(Fold {
        title: Text::from(tail.replace('/', " · ")).plain(" = ").shown(&shown),
        anchor: Some(one.path.clone()),
        open: false,
        blocks: vec![Block::Steps(teacher.teach(Some(&one.path), &one.step, None))],
    })
}
