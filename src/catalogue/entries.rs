//! One built-in list, read no further than it is asked for.
//!
//! Finding an entry needs only its name, and a list of a hundred entries is mostly figures that one
//! season never touches. So names stand beside the entries, and an entry is read when it is first asked
//! for.

use std::sync::{Arc, OnceLock};

use serde::de::DeserializeOwned;

use super::names::{nearest, same};

/// What a list holds: something that has a name, and perhaps other names.
pub trait Entry: DeserializeOwned {
    /// Its name.
    fn name(&self) -> &str;
    /// Its other names.
    fn aliases(&self) -> &[String] {
        &[]
    }
}

/// One built-in entry, as it is built in.
#[derive(Debug)]
pub struct Piece {
    /// Its name.
    pub name: &'static str,
    /// Its other names.
    pub aliases: &'static [&'static str],
    /// The whole entry, as JSON.
    pub text: &'static str,
}

impl Piece {
    fn read<T: Entry>(&self) -> Arc<T> {
        let entry = serde_json::from_str(self.text);
        Arc::new(entry.unwrap_or_else(|fault| panic!("{}: {fault}", self.name)))
    }
}

/// A list: the built-in entries, and the grower's own in front of them.
#[derive(Debug)]
pub struct Entries<T> {
    listed: &'static [Piece],
    /// The built-in entries that have been asked for, by their place in the list.
    read: OnceLock<Vec<OnceLock<Arc<T>>>>,
    own: Vec<Arc<T>>,
}

impl<T: Entry> Entries<T> {
    /// Makes the list without looking at it.
    pub const fn new(listed: &'static [Piece]) -> Self {
        Self { listed, read: OnceLock::new(), own: Vec::new() }
    }

    fn get(&self, at: usize) -> Arc<T> {
        let all = || self.listed.iter().map(|_| OnceLock::new()).collect();
        let read = &self.read.get_or_init(all)[at];
        Arc::clone(read.get_or_init(|| self.listed[at].read()))
    }

    /// Finds an entry by name or other name; the grower's own come first, the last one added before
    /// those added earlier.
    pub fn find(&self, name: &str) -> Option<Arc<T>> {
        let is_called = |entry: &&Arc<T>| {
            same(entry.name(), name) || entry.aliases().iter().any(|alias| same(alias, name))
        };
        if let Some(own) = self.own.iter().rev().find(is_called) {
            return Some(Arc::clone(own));
        }
        // Names written as the list has them, which most are, are quick to tell apart.
        let written = |entry: &Piece| entry.name == name;
        let is_called = |entry: &Piece| {
            same(entry.name, name) || entry.aliases.iter().any(|alias| same(alias, name))
        };
        let mut places = self.listed.iter();
        let place = places.position(written).or_else(|| self.listed.iter().position(is_called));
        place.map(|at| self.get(at))
    }

    /// Whether an entry has just this name, as it is listed.
    pub fn lists(&self, name: &str) -> bool {
        let own = self.own.iter().any(|entry| entry.name() == name);
        own || self.listed.iter().any(|entry| entry.name == name)
    }

    /// Returns the name nearest to one that was not found.
    pub fn nearest(&self, name: &str) -> Option<String> {
        let listed = self
            .listed
            .iter()
            .flat_map(|entry| std::iter::once(entry.name).chain(entry.aliases.iter().copied()));
        let own = self.own.iter().flat_map(|entry| {
            std::iter::once(entry.name()).chain(entry.aliases().iter().map(String::as_str))
        });
        nearest(name, own.chain(listed))
    }

    /// The grower's own entries.
    pub fn own(&self) -> &[Arc<T>] {
        &self.own
    }

    /// Adds an entry of the grower's own; it takes the place of a built-in one of the same name.
    pub fn add(&mut self, entry: T) {
        self.own.push(Arc::new(entry));
    }

    /// Walks all entries: the built-in ones in their order, then the grower's own.
    /// A built-in entry whose name an own entry has taken is left out.
    pub fn iter(&self) -> impl Iterator<Item = Arc<T>> {
        self.iter_of(|_| true)
    }

    /// Walks the built-in entries whose text is wanted, reading no others, then all of the grower's own.
    pub fn iter_of(&self, wanted: impl Fn(&str) -> bool) -> impl Iterator<Item = Arc<T>> {
        let taken = |name: &str| self.own.iter().any(|own| same(own.name(), name));
        let listed = (0..self.listed.len())
            .filter(move |at| wanted(self.listed[*at].text) && !taken(self.listed[*at].name));
        listed.map(|at| self.get(at)).chain(self.own.iter().map(Arc::clone))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, serde::Deserialize)]
    struct Tool {
        name: String,
        #[serde(default)]
        aliases: Vec<String>,
        teeth: u8,
    }

    impl Entry for Tool {
        fn name(&self) -> &str {
            &self.name
        }
        fn aliases(&self) -> &[String] {
            &self.aliases
        }
    }

    const TOOLS: &[Piece] = &[
        Piece {
            name: "garden-rake",
            aliases: &["rake", "bow rake"],
            text: r#"{"name":"garden-rake","aliases":["rake","bow rake"],"teeth":14}"#,
        },
        Piece { name: "fork", aliases: &[], text: r#"{"name":"fork","teeth":4}"# },
    ];

    #[test]
    fn entries_are_found_by_any_name_and_read_alone() {
        let tools = Entries::<Tool>::new(TOOLS);
        assert_eq!(tools.find("Garden Rake").map(|tool| tool.teeth), Some(14));
        assert_eq!(tools.find("bow_rake").map(|tool| tool.teeth), Some(14));
        let read: Vec<bool> =
            tools.read.get().into_iter().flatten().map(|tool| tool.get().is_some()).collect();
        assert_eq!(read, [true, false]);
        assert_eq!(tools.find("fork").map(|tool| tool.teeth), Some(4));
        assert!(tools.find("hoe").is_none());
        assert_eq!(tools.nearest("forc").as_deref(), Some("fork"));
    }

    #[test]
    fn own_entries_take_the_place_of_built_in_ones() {
        let mut tools = Entries::<Tool>::new(TOOLS);
        tools.add(Tool { name: "Fork".to_owned(), aliases: Vec::new(), teeth: 5 });
        tools.add(Tool { name: "hoe".to_owned(), aliases: vec!["rake".to_owned()], teeth: 0 });
        assert_eq!(tools.find("fork").map(|tool| tool.teeth), Some(5));
        assert_eq!(tools.find("rake").map(|tool| tool.teeth), Some(0));
        assert_eq!(tools.find("garden rake").map(|tool| tool.teeth), Some(14));
        let names: Vec<String> = tools.iter().map(|tool| tool.name.clone()).collect();
        assert_eq!(names, ["garden-rake", "Fork", "hoe"]);
    }
}
