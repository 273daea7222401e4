//! One built-in list, read no further than it is asked for.
//!
//! Finding an entry needs only its name, and a list of a hundred entries is mostly figures that one
//! season never touches. So the text is first cut at its `[[…]]` headings, looking at nothing but
//! the lines that hold names; an entry is parsed when it is first asked for.

use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use serde::de::DeserializeOwned;

use super::names::{nearest, same};

/// What a list holds: something that has a name, and perhaps other names.
pub trait Entry: DeserializeOwned {
    /// The table its entries are written as, such as `crop` for `[[crop]]`.
    const TABLE: &'static str;
    /// The field that names it.
    const KEY: &'static str;
    /// Its name.
    fn name(&self) -> &str;
    /// Its other names.
    fn aliases(&self) -> &[String] {
        &[]
    }
}

/// One entry of a built-in list, parsed when it is first asked for.
#[derive(Debug)]
struct Listed<T> {
    name: &'static str,
    aliases: Vec<&'static str>,
    text: &'static str,
    parsed: OnceCell<Rc<T>>,
}

impl<T: Entry> Listed<T> {
    fn get(&self) -> Rc<T> {
        Rc::clone(self.parsed.get_or_init(|| {
            let mut table: BTreeMap<String, Vec<T>> = toml::from_str(self.text)
                .unwrap_or_else(|fault| panic!("{} {}: {fault}", T::TABLE, self.name));
            let entry = table.remove(T::TABLE).and_then(|mut all| all.pop());
            Rc::new(entry.expect("a piece of the list begins with the heading of its entry"))
        }))
    }
}

/// A list: the built-in entries, and the grower's own in front of them.
#[derive(Debug)]
pub struct Entries<T> {
    text: &'static str,
    listed: OnceCell<Vec<Listed<T>>>,
    own: Vec<Rc<T>>,
}

impl<T: Entry> Entries<T> {
    /// Makes the list from its text without looking at it.
    pub const fn new(text: &'static str) -> Self {
        Self { text, listed: OnceCell::new(), own: Vec::new() }
    }

    fn listed(&self) -> &[Listed<T>] {
        self.listed.get_or_init(|| cut(self.text, T::TABLE, T::KEY))
    }

    /// Finds an entry by name or other name; the grower's own come first, the last one added before
    /// those added earlier.
    pub fn find(&self, name: &str) -> Option<Rc<T>> {
        let is_called = |entry: &&Rc<T>| {
            same(entry.name(), name) || entry.aliases().iter().any(|alias| same(alias, name))
        };
        if let Some(own) = self.own.iter().rev().find(is_called) {
            return Some(Rc::clone(own));
        }
        // Names written as the list has them, which most are, are quick to tell apart.
        let written = |entry: &&Listed<T>| entry.name == name;
        let is_called = |entry: &&Listed<T>| {
            same(entry.name, name) || entry.aliases.iter().any(|alias| same(alias, name))
        };
        let listed = self.listed();
        listed.iter().find(written).or_else(|| listed.iter().find(is_called)).map(Listed::get)
    }

    /// Returns the name nearest to one that was not found.
    pub fn nearest(&self, name: &str) -> Option<String> {
        let listed = self.listed().iter();
        let listed = listed
            .flat_map(|entry| std::iter::once(entry.name).chain(entry.aliases.iter().copied()));
        let own = self.own.iter().flat_map(|entry| {
            std::iter::once(entry.name()).chain(entry.aliases().iter().map(String::as_str))
        });
        nearest(name, own.chain(listed))
    }

    /// The grower's own entries.
    pub fn own(&self) -> &[Rc<T>] {
        &self.own
    }

    /// Adds an entry of the grower's own; it takes the place of a built-in one of the same name.
    pub fn add(&mut self, entry: T) {
        self.own.push(Rc::new(entry));
    }

    /// Walks all entries: the built-in ones in their order, then the grower's own.
    /// A built-in entry whose name an own entry has taken is left out.
    pub fn iter(&self) -> impl Iterator<Item = Rc<T>> {
        let taken = |name: &str| self.own.iter().any(|own| same(own.name(), name));
        let listed = self.listed().iter().filter(move |entry| !taken(entry.name));
        listed.map(Listed::get).chain(self.own.iter().map(Rc::clone))
    }
}

/// Cuts a list at its headings, reading only the lines that hold names. A comment above a heading
/// stays with the entry before it, which does no harm.
fn cut<T>(text: &'static str, table: &str, key: &str) -> Vec<Listed<T>> {
    let heading = format!("[[{table}]]");
    let mut listed: Vec<Listed<T>> = Vec::new();
    let mut start = None;
    for (at, _) in text.match_indices(&heading) {
        if at > 0 && !text[..at].ends_with('\n') {
            continue;
        }
        if let Some(from) = start {
            listed.push(piece(&text[from..at], key));
        }
        start = Some(at);
    }
    if let Some(from) = start {
        listed.push(piece(&text[from..], key));
    }
    listed
}

fn piece<T>(text: &'static str, key: &str) -> Listed<T> {
    let mut listed = Listed { name: "", aliases: Vec::new(), text, parsed: OnceCell::new() };
    for line in text.lines().skip(1) {
        let Some((field, value)) = line.split_once('=') else { break };
        let mut quoted = value.split('"').skip(1).step_by(2);
        match field.trim() {
            field if field == key => listed.name = quoted.next().unwrap_or_default(),
            "aliases" => listed.aliases = quoted.collect(),
            _ => break,
        }
    }
    listed
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
        const TABLE: &'static str = "tool";
        const KEY: &'static str = "name";
        fn name(&self) -> &str {
            &self.name
        }
        fn aliases(&self) -> &[String] {
            &self.aliases
        }
    }

    const TOOLS: &str = "# Tools.\n\n[[tool]]\nname = \"garden-rake\"\naliases = [\"rake\", \"bow rake\"]\nteeth = 14\n\n[[tool]]\nname = \"fork\"\nteeth = 4\n";

    #[test]
    fn entries_are_found_by_any_name_and_parsed_alone() {
        let tools = Entries::<Tool>::new(TOOLS);
        assert_eq!(tools.find("Garden Rake").map(|tool| tool.teeth), Some(14));
        assert_eq!(tools.find("bow_rake").map(|tool| tool.teeth), Some(14));
        assert_eq!(tools.find("fork").map(|tool| tool.teeth), Some(4));
        assert!(tools.find("hoe").is_none());
        assert_eq!(tools.nearest("forc").as_deref(), Some("fork"));
        let parsed = tools.listed().iter().filter(|tool| tool.parsed.get().is_some());
        assert_eq!(parsed.count(), 2);
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
