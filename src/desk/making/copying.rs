//! Lines to copy: the guide's own, from its table of what to write when.

use maud::{Markup, html};

const GUIDE: &str = include_str!("../../../grammar/guide.md");

/// What somebody may want to do, and the lines that do it.
struct Task<'g> {
    words: &'g str,
    lines: Vec<&'g str>,
}

/// The entries of a list, each with a button for its line.
pub fn lines() -> Result<String, String> {
    let tasks: Vec<Task> = tasks(GUIDE).collect();
    if tasks.is_empty() {
        return Err("the guide has no table of what to write when".to_owned());
    }
    Ok(html! { @for task in &tasks { (entry(task)) } }.into_string())
}

fn tasks(guide: &str) -> impl Iterator<Item = Task<'_>> {
    let table = guide.split_once("## What to write when").map_or("", |(_, table)| table);
    let rows = table.lines().take_while(|line| !line.starts_with("## ")).filter(|line| line.starts_with("| "));
    rows.skip(1).filter_map(|row| {
        let mut cells = row.trim_matches('|').splitn(2, " | ");
        let (words, write) = (cells.next()?.trim(), cells.next()?);
        Some(Task { words, lines: write.split('`').skip(1).step_by(2).collect() })
    })
}

fn entry(task: &Task) -> Markup {
    html! {
        div {
            dt { (task.words) }
            @for line in &task.lines {
                dd { code { (line) } button type="button" data-line=(line) aria-label={ "Put in: " (line) } { "Put in" } }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{GUIDE, tasks};

    #[test]
    fn each_task_of_the_guide_has_its_lines() {
        let all: Vec<_> = tasks(GUIDE).collect();
        assert!(all.len() > 35, "{}", all.len());
        assert!(all.iter().all(|task| !task.words.is_empty() && !task.lines.is_empty()));
        assert!(all.iter().any(|task| task.lines == ["start ring", "rnd 1: 6 sc in ring = 6"]));
    }
}
