use std::collections::BTreeMap;
use ringtrue::compile;
fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let stride: usize = args[0].parse().unwrap();
    let show: Option<&str> = args.get(1).map(|s| s.as_str());
    let mut files: Vec<_> = std::fs::read_dir("samples").unwrap().map(|e| e.unwrap().path()).filter(|p| p.extension().is_some_and(|e| e == "rnd")).collect();
    files.sort();
    let (mut states, mut bad) = (0usize, 0usize);
    let mut kinds: BTreeMap<(String, bool, String), (usize, Vec<String>)> = BTreeMap::new();
    let mut n = 0usize;
    for path in files {
        let text = std::fs::read_to_string(&path).unwrap();
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let (tree, _) = ringtrue::syntax::parse(&text);
        for line in &tree.lines {
            let (start, end) = (line.span.start, line.span.end);
            let whole = &text[start..end];
            for (at, _) in whole.char_indices().skip(1) {
                n += 1;
                if n % stride != 0 { continue }
                let cut = format!("{}{}", &text[..start + at], &text[end..]);
                states += 1;
                let findings = compile(&cut).findings;
                let here = |s: usize| (start..=start + at).contains(&s);
                let readable = !findings.iter().any(|f| here(f.primary.span.start));
                let else_: Vec<_> = findings.iter().filter(|f| !here(f.primary.span.start)).collect();
                if else_.is_empty() { continue }
                bad += 1;
                let word = whole.split([' ', ':']).next().unwrap_or("").to_owned();
                let f = else_[0];
                let e = kinds.entry((word, readable, f.code.0.to_owned())).or_default();
                e.0 += 1;
                e.1.push(format!("{name}: {:?} -> [{}] {}", &whole[..at], f.code.0, f.message));
            }
        }
    }
    println!("{bad} of {states}");
    let mut all: Vec<_> = kinds.into_iter().collect();
    all.sort_by_key(|(_, (c, _))| std::cmp::Reverse(*c));
    for ((w, r, c), (count, ex)) in all {
        println!("{count:5} {w:10} {} {c}", if r {"READABLE"} else {"unread  "});
        let k = if show.is_some_and(|s| s == w || s == "all" || (s == "unread" && !r) || (s=="readable" && r)) { 8 } else { 1 };
        let step = (ex.len() / k).max(1);
        for e in ex.iter().step_by(step).take(k) { println!("        {e}"); }
    }
}
