//! A pattern to start from as it was asked for: its title, its sizes, its hook and its yarn.

use super::{starter, titled};

/// What a pattern to start from has that can be asked for otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offered {
    /// The names of its sizes; none where it has one size only.
    pub sizes: Vec<String>,
    /// The hook, as the notation has it: `4 mm`.
    pub hook: String,
    /// The yarn, as the notation has it behind its letter: `"sand", weight 4, 50 g = 85 m`.
    pub yarn: String,
}

/// What is asked for. What is left empty stays as the pattern to start from has it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Wishes {
    /// Which pattern: `mat`, `hat`, `toy`, `motif`, `shawl`, `scarf` or `garment`.
    pub what: String,
    /// Its title.
    pub title: String,
    /// A name for each size that the pattern to start from has, in its order; nothing for one that isn't wanted.
    pub sizes: Vec<Option<String>>,
    /// How thick the hook is, in mm.
    pub hook: Option<f64>,
    /// The colour or the name of the yarn.
    pub colour: String,
    /// Its weight, 0 to 7.
    pub weight: Option<u8>,
    /// A ball of it, in grams and metres.
    pub ball: Option<(f64, f64)>,
}

/// What a pattern to start from offers; nothing where there is none of that name.
#[must_use]
pub fn offered(what: &str) -> Option<Offered> {
    let text = starter(what)?;
    let said = |word: &str| text.lines().find_map(|line| said(line, word)).unwrap_or_default();
    let yarn = said("yarn").split_once(' ').map_or("", |(_, yarn)| yarn.trim());
    Some(Offered { sizes: names(said("sizes")), hook: said("hook").to_owned(), yarn: yarn.to_owned() })
}

/// The pattern that is asked for; nothing where there is none of that name.
#[must_use]
pub fn begin(wishes: &Wishes) -> Option<String> {
    let text = titled(starter(&wishes.what)?, &wishes.title);
    let old = offered(&wishes.what)?.sizes;
    let new: Vec<Option<String>> = chosen(&old, &wishes.sizes);
    let other = wishes.hook.is_some() || wishes.weight.is_some();
    let lines = text.lines().filter_map(|line| {
        let line = for_sizes(line, &old, &new)?;
        Some(if let Some(hook) = wishes.hook.filter(|_| said(&line, "hook").is_some()) {
            replaced(&line, "hook", &format!("{hook} mm"))
        } else if let Some(yarn) = said(&line, "yarn") {
            replaced(&line, "yarn", &in_yarn(yarn, wishes))
        } else if other && said(&line, "gauge").is_some() {
            format!("{line}  # measure your own swatch, and write it here")
        } else {
            line
        })
    });
    let mut begun: Vec<String> = lines.collect();
    begun.push(String::new());
    Some(begun.join("\n"))
}

/// What stands behind the first word of a line of the head, if it is this word.
fn said<'l>(line: &'l str, word: &str) -> Option<&'l str> {
    line.strip_prefix(word).filter(|rest| rest.starts_with(' ')).map(str::trim)
}

fn replaced(line: &str, word: &str, new: &str) -> String {
    let gap = line.get(word.len()..).map_or(1, |rest| rest.len() - rest.trim_start().len());
    format!("{word}{}{new}", " ".repeat(gap))
}

fn names(sizes: &str) -> Vec<String> {
    sizes.split('/').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect()
}

/// The sizes under their new names. Where none or not as many are said as there are, all of them stay.
fn chosen(old: &[String], asked: &[Option<String>]) -> Vec<Option<String>> {
    if asked.len() != old.len() || asked.iter().all(Option::is_none) {
        return old.iter().cloned().map(Some).collect();
    }
    let mut new: Vec<Option<String>> = Vec::with_capacity(old.len());
    for (old, asked) in old.iter().zip(asked) {
        let name = asked.as_deref().map(|name| {
            let kept: String = name.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '.')).collect();
            let kept = kept.split_whitespace().collect::<Vec<_>>().join(" ");
            let taken = new.iter().flatten().any(|other| other.to_lowercase() == kept.to_lowercase());
            if kept.is_empty() || taken { old.clone() } else { kept }
        });
        new.push(name);
    }
    new
}

/// A line with the numbers of the sizes that are wanted; nothing where it is for none of them.
fn for_sizes(line: &str, old: &[String], new: &[Option<String>]) -> Option<String> {
    let wanted: Vec<&str> = new.iter().flatten().map(String::as_str).collect();
    if said(line, "sizes").is_some() {
        return (wanted.len() > 1).then(|| replaced(line, "sizes", &wanted.join(" / ")));
    }
    if let Some((only, rest)) = line.strip_prefix("only ").and_then(|line| line.split_once(':')) {
        let of: Vec<&str> = only.split(',').map(str::trim).collect();
        let is_of = |at: usize| old.get(at).is_some_and(|name| of.contains(&name.as_str()));
        let kept: Vec<&str> =
            new.iter().enumerate().filter(|(at, _)| is_of(*at)).filter_map(|(_, name)| name.as_deref()).collect();
        let rest = numbers_for(rest.trim_start(), new);
        return match kept.len() {
            0 => None,
            all if all == wanted.len() => Some(rest),
            _ => Some(format!("only {}: {rest}", kept.join(", "))),
        };
    }
    Some(numbers_for(line, new))
}

/// A line in which each list of numbers by size has those of the sizes that are wanted.
fn numbers_for(line: &str, new: &[Option<String>]) -> String {
    let words: Vec<&str> = line.split(' ').collect();
    let is_slash = |at: usize| words.get(at) == Some(&"/");
    let mut written: Vec<&str> = Vec::with_capacity(words.len());
    let (mut at, mut braces) = (0, 0_usize);
    while let Some(word) = words.get(at) {
        let mut last = at;
        while braces == 0 && is_slash(last + 1) && words.get(last + 2).is_some() {
            last += 2;
        }
        let list: Vec<&str> = words.get(at..=last).unwrap_or_default().iter().copied().step_by(2).collect();
        if list.len() > 1 && list.len() == new.len() {
            let kept = list.iter().zip(new).filter(|(_, wanted)| wanted.is_some()).map(|(number, _)| *number);
            for (index, number) in kept.enumerate() {
                written.extend((index > 0).then_some("/"));
                written.push(number);
            }
            at = last + 1;
            continue;
        }
        braces = (braces + word.matches('{').count()).saturating_sub(word.matches('}').count());
        written.push(word);
        at += 1;
    }
    written.join(" ")
}

/// A yarn with what is asked for of it. Another weight is another yarn: what a ball of the old one has says nothing of it.
fn in_yarn(old: &str, wishes: &Wishes) -> String {
    let mut parts = old.split(", ");
    let (named, weight, ball) = (parts.next().unwrap_or_default(), parts.next(), parts.next());
    let letters = |c: &char| c.is_alphanumeric() || matches!(c, ' ' | '-');
    let colour: String = wishes.colour.chars().filter(letters).collect();
    let named = match (named.split_once(' '), colour.trim()) {
        (Some((letter, _)), colour) if !colour.is_empty() => format!("{letter} \"{colour}\""),
        _ => named.to_owned(),
    };
    let mut yarn = vec![named];
    let ball = ball.filter(|_| wishes.weight.is_none_or(|new| weight == Some(&*format!("weight {new}"))));
    yarn.extend(wishes.weight.map(|weight| format!("weight {weight}")).or_else(|| weight.map(str::to_owned)));
    yarn.extend(wishes.ball.map(|(g, m)| format!("{g} g = {m} m")).or_else(|| ball.map(str::to_owned)));
    yarn.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::starter::ALL;

    /// Every choice of sizes that can be made of so many.
    fn choices(of: usize) -> impl Iterator<Item = Vec<bool>> {
        (1..1_u32 << of).map(move |bits| (0..of).map(|at| bits & (1 << at) != 0).collect())
    }

    fn rings_true(wishes: &Wishes) -> String {
        let text = begin(wishes).unwrap();
        let findings = crate::compile(&text).findings;
        assert!(findings.is_empty(), "{wishes:?}\n{text}\n{findings:#?}");
        text
    }

    #[test]
    fn whatever_sizes_are_chosen_it_rings_true() {
        for what in ALL {
            let sizes = offered(what).unwrap().sizes;
            for choice in choices(sizes.len().max(1)) {
                let names = sizes.iter().zip(&choice).map(|(name, wanted)| wanted.then(|| format!("{name} one")));
                let text = rings_true(&Wishes { what: what.to_owned(), sizes: names.collect(), ..Wishes::default() });
                let wanted = choice.iter().filter(|wanted| **wanted).count();
                assert_eq!(crate::compile(&text).pattern.sizes.len(), wanted, "{text}");
            }
        }
    }

    #[test]
    fn hook_and_yarn_are_those_that_are_asked_for() {
        for what in ALL {
            let wishes = Wishes {
                what: what.to_owned(),
                title: "Groyne / Cloth".to_owned(),
                hook: Some(6.5),
                colour: "foam \" # green".to_owned(),
                weight: Some(5),
                ball: Some((100.0, 120.0)),
                ..Wishes::default()
            };
            let text = rings_true(&wishes);
            let head = crate::compile(&text).pattern.head;
            assert_eq!(head.title, "Groyne Cloth");
            assert!(text.contains("6.5 mm") && text.contains("\"foam   green\", weight 5, 100 g = 120 m"), "{text}");
            // What a ball of another yarn has is not taken over.
            let other = begin(&Wishes { what: what.to_owned(), weight: Some(2), ..Wishes::default() }).unwrap();
            assert!(other.contains("weight 2\n"), "{other}");
        }
    }

    #[test]
    fn what_is_not_asked_for_stays() {
        for what in ALL {
            let same = begin(&Wishes { what: what.to_owned(), ..Wishes::default() }).unwrap();
            assert_eq!(same, starter(what).unwrap());
            // A name that nobody can tell from another one, or with nothing in it, is not taken.
            let sizes = offered(what).unwrap().sizes;
            let twice = sizes.iter().map(|_| Some("/ #".to_owned())).collect();
            let asked = Wishes { what: what.to_owned(), sizes: twice, ..Wishes::default() };
            assert_eq!(begin(&asked).unwrap(), starter(what).unwrap());
        }
        assert_eq!(begin(&Wishes::default()), None);
    }
}
