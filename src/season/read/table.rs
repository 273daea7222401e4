//! One table of the file: its fields taken one by one, what is left over is a fault.

use std::marker::PhantomData;
use std::sync::Arc;

use serde_json::Value as Json;
use toml::de::{DeTable, DeValue};

use super::super::Said;
use super::value::{Headed, Item, Listed, One, Text, Value, place_of, wrong};
use crate::catalogue::names::{nearest, normal};
use crate::fault::{Fault, shape};
use crate::figure::Place;

/// A field of a table: its name and the kind of its value.
pub struct Field<T> {
    /// Its name in the file.
    pub name: &'static str,
    /// What it says, in a few words.
    pub about: &'static str,
    /// A value that works, as the file writes it.
    pub example: &'static str,
    /// Whether its table is nothing without it, whatever else it says.
    pub always: bool,
    kind: PhantomData<fn() -> T>,
}

impl<T> Field<T> {
    /// Makes a field.
    pub const fn new(
        name: &'static str,
        about: &'static str,
        example: &'static str,
        always: bool,
    ) -> Self {
        Self { name, about, example, always, kind: PhantomData }
    }
}

/// A field with the kind of its value forgotten: what faults and the schema need.
pub struct Described {
    /// Its name in the file.
    pub name: &'static str,
    /// What it says.
    pub about: &'static str,
    /// A value that works, as the file writes it.
    pub example: &'static str,
    /// Whether its table is nothing without it.
    pub always: bool,
    /// The schema of its value.
    pub schema: fn() -> Json,
}

/// What a table may hold.
pub struct Shape {
    /// How it is called in faults, such as `[[bed]]`.
    pub heading: &'static str,
    /// Its fields.
    pub fields: &'static [Described],
    /// Fields that it shares with others.
    pub shared: &'static [Described],
}

impl Shape {
    /// All fields.
    pub fn all(&self) -> impl Iterator<Item = &Described> {
        self.fields.iter().chain(self.shared)
    }
}

/// A table that has a shape.
pub trait Section {
    /// Its shape.
    const SHAPE: &'static Shape;
}

/// The faults found so far, and the parts of the file that could not be read at all.
#[derive(Default)]
pub struct Findings {
    /// Faults.
    pub faults: Vec<Fault>,
    /// Where lines were passed over, in order. A table with such a line is not told what it lacks.
    pub damage: Arc<Vec<Place>>,
    /// Where headings begin, in order; only filled where there is damage.
    pub headings: Arc<Vec<u32>>,
    /// Own crops and materials that have a fault, as names are compared: using one is no further
    /// fault.
    pub broken: Vec<String>,
}

impl Findings {
    /// Begins anew with what is known of the file, for a part of it that is read beside others.
    pub fn beside(&self) -> Self {
        let (damage, headings) = (Arc::clone(&self.damage), Arc::clone(&self.headings));
        Self { faults: Vec::new(), damage, headings, broken: self.broken.clone() }
    }

    /// Adds a fault.
    pub fn push(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// Remembers an own entry that has a fault.
    pub fn is_broken(&mut self, name: Option<Said<&str>>) {
        self.broken.extend(name.map(|name| normal(name.value)));
    }

    /// Whether a name is that of an own entry with a fault.
    pub fn knows_broken(&self, name: &str) -> bool {
        !self.broken.is_empty() && self.broken.contains(&normal(name))
    }

    /// Whether a line of the table that begins here was passed over. The file as a whole begins at
    /// nothing and ends at nothing.
    fn is_damaged(&self, table: Place) -> bool {
        if self.damage.is_empty() {
            return false;
        }
        if table == Place::default() {
            return true;
        }
        let next = self.headings.iter().find(|start| **start > table.start);
        let end = next.copied().unwrap_or(u32::MAX).max(table.end);
        self.damage.iter().any(|at| at.start >= table.start && at.start < end)
    }
}

/// A field name as the file would write it.
fn normal_field(name: &str) -> String {
    name.to_lowercase().replace([' ', '-'], "_")
}

/// One table being read.
pub struct Table<'t, 's> {
    map: &'t DeTable<'s>,
    /// Where it begins (its heading), or where an inline table stands.
    pub place: Place,
    /// How it is called in faults.
    pub heading: &'static str,
    /// Whether nothing was wrong with its own fields so far, and no line of it is missing.
    pub sound: bool,
    damaged: bool,
    /// Fields that misspelt ones are taken to mean: these are there, after a fashion.
    meant: Vec<&'static str>,
}

impl<'t, 's> Table<'t, 's> {
    /// Begins a table and finds the fields it should not have.
    pub fn open<S: Section>(map: &'t DeTable<'s>, place: Place, into: &mut Findings) -> Self {
        let shape = S::SHAPE;
        let damaged = into.is_damaged(place);
        let meant = Vec::new();
        let mut table =
            Self { map, place, heading: shape.heading, sound: !damaged, damaged, meant };
        for (key, _) in map {
            let name: &str = key.get_ref();
            if name.is_empty() || shape.all().any(|field| field.name == name) {
                continue;
            }
            table.unknown(shape, name, place_of(key), into);
        }
        table
    }

    /// Tells of a field that the table does not have: a slip of the pen, or one of another table.
    fn unknown(&mut self, shape: &Shape, name: &str, at: Place, into: &mut Findings) {
        let known: Vec<&'static str> = shape.all().map(|field| field.name).collect();
        let near = nearest(name, known.iter().copied());
        let meant = known.iter().find(|field| Some(**field) == near.as_deref());
        self.meant.extend(meant);
        let elsewhere = super::fields::ALL
            .iter()
            .find(|other| other.fields.iter().any(|field| field.name == normal_field(name)));
        let fault = match elsewhere {
            Some(other) if near.is_none() => {
                shape::misplaced_field(at, name, shape.heading, other.heading)
            }
            _ => shape::unknown_field(at, name, shape.heading, near.as_deref(), &known),
        };
        self.fault(fault, into);
    }

    /// The value of a field as it stands in the file.
    pub fn item<T>(&self, field: &Field<T>) -> Option<&'t Item<'s>> {
        self.map.get(field.name)
    }

    /// The value under a name, as it stands in the file.
    pub fn named(&self, name: &str) -> Option<&'t Item<'s>> {
        self.map.get(name)
    }

    /// Whether a field is there.
    pub fn has<T>(&self, field: &Field<T>) -> bool {
        self.map.contains_key(field.name)
    }

    /// Where the name of a field stands, or the table where it is not there.
    pub fn key<T>(&self, field: &Field<T>) -> Place {
        self.map.get_key_value(field.name).map_or(self.place, |(key, _)| place_of(key))
    }

    /// Adds a fault of this table.
    pub fn fault(&mut self, fault: Fault, into: &mut Findings) {
        self.sound = false;
        into.push(fault);
    }

    /// Adds a fault of something missing, unless a line of the table could not be read.
    pub fn lacks(&mut self, fault: Fault, into: &mut Findings) {
        self.sound = false;
        if !self.damaged && self.meant.is_empty() {
            into.push(fault);
        }
    }

    /// Reads a field where it is there and right.
    pub fn take<T: Value>(&mut self, field: &Field<T>, into: &mut Findings) -> Option<Said<T>> {
        // The schema says of each field whether it must be there: the reader agrees.
        debug_assert!(!field.always, "`{}` must be there", field.name);
        self.read(field, into)
    }

    fn read<T: Value>(&mut self, field: &Field<T>, into: &mut Findings) -> Option<Said<T>> {
        let item = self.item(field)?;
        match T::read(item, field.name) {
            Ok(value) => Some(Said::new(value, place_of(item))),
            Err(fault) => {
                self.fault(fault, into);
                None
            }
        }
    }

    /// Reads a field that must be there.
    pub fn require<T: Value>(&mut self, field: &Field<T>, into: &mut Findings) -> Option<Said<T>> {
        debug_assert!(field.always, "`{}` need not be there", field.name);
        self.must_have(field, into)?;
        self.read(field, into)
    }

    /// Makes the fault of a field that is not there and, here at least, must be.
    pub fn must_have<T>(&mut self, field: &Field<T>, into: &mut Findings) -> Option<()> {
        if self.has(field) {
            return Some(());
        }
        let (name, about, example) = (field.name, field.about, field.example);
        self.sound = false;
        if !self.damaged && !self.meant.contains(&name) {
            into.push(shape::missing_field(self.place, self.heading, name, about, example));
        }
        None
    }

    /// Reads a text that is not empty.
    pub fn text(&mut self, field: &Field<Text>, into: &mut Findings) -> Option<Said<&'t str>> {
        debug_assert!(!field.always, "`{}` must be there", field.name);
        self.read_text(field, into)
    }

    fn read_text(&mut self, field: &Field<Text>, into: &mut Findings) -> Option<Said<&'t str>> {
        let item = self.item(field)?;
        match item.get_ref() {
            DeValue::String(text) if !text.trim().is_empty() => {
                Some(Said::new(text.trim(), place_of(item)))
            }
            DeValue::String(_) => {
                self.fault(shape::empty_text(place_of(item), field.name, field.example), into);
                None
            }
            _ => {
                self.fault(wrong(item, field.name, "a text in quotes", field.example), into);
                None
            }
        }
    }

    /// Reads a text that must be there.
    pub fn require_text(
        &mut self,
        field: &Field<Text>,
        into: &mut Findings,
    ) -> Option<Said<&'t str>> {
        debug_assert!(field.always, "`{}` need not be there", field.name);
        self.must_have(field, into)?;
        self.read_text(field, into)
    }

    /// Opens the table under a field.
    pub fn table<S: Section>(
        &mut self,
        field: &Field<One<S>>,
        into: &mut Findings,
    ) -> Option<Table<'t, 's>> {
        let item = self.item(field)?;
        match item.get_ref() {
            DeValue::Table(map) => Some(Table::open::<S>(map, place_of(item), into)),
            DeValue::Array(all) if all.iter().all(|one| one.get_ref().is_table()) => {
                self.fault(shape::wrong_brackets(self.key(field), field.name, false), into);
                None
            }
            _ => {
                self.fault(wrong(item, field.name, "a table", field.example), into);
                None
            }
        }
    }

    /// Opens the tables that stand each under its own heading.
    pub fn headed<S: Section>(
        &mut self,
        field: &Field<Headed<S>>,
        into: &mut Findings,
    ) -> Vec<Table<'t, 's>> {
        if let Some(DeValue::Table(_)) = self.item(field).map(toml::Spanned::get_ref) {
            self.fault(shape::wrong_brackets(self.key(field), field.name, true), into);
            return Vec::new();
        }
        self.several::<S>(field.name, field.example, into)
    }

    /// Opens the inline tables in a list, or the single one.
    pub fn listed<S: Section>(
        &mut self,
        field: &Field<Listed<S>>,
        into: &mut Findings,
    ) -> Vec<Table<'t, 's>> {
        if let Some(item) = self.item(field)
            && let DeValue::Table(map) = item.get_ref()
        {
            return vec![Table::open::<S>(map, place_of(item), into)];
        }
        self.several::<S>(field.name, field.example, into)
    }

    fn several<S: Section>(
        &mut self,
        name: &str,
        example: &str,
        into: &mut Findings,
    ) -> Vec<Table<'t, 's>> {
        let Some(item) = self.map.get(name) else { return Vec::new() };
        let DeValue::Array(all) = item.get_ref() else {
            self.fault(wrong(item, name, "a list of tables", example), into);
            return Vec::new();
        };
        let mut tables = Vec::with_capacity(all.len());
        for one in all {
            match one.get_ref() {
                DeValue::Table(map) => tables.push(Table::open::<S>(map, place_of(one), into)),
                _ => self.fault(wrong(one, name, "a table in braces", example), into),
            }
        }
        tables
    }
}

#[cfg(test)]
mod tests {
    use super::super::fields;

    #[test]
    fn no_table_has_two_fields_of_one_name() {
        for shape in fields::ALL {
            let mut names: Vec<&str> = shape.all().map(|field| field.name).collect();
            names.sort_unstable();
            let had = names.len();
            names.dedup();
            assert_eq!(names.len(), had, "{}", shape.heading);
        }
    }
}
