//! An editor talks to `ringtrue language-server`, and says broken things too.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test says what it expects by failing"
)]
#![expect(clippy::needless_pass_by_value, reason = "what is asked is written where it is asked")]

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde_json::{Value, json};

const URI: &str = "file:///quay/%F0%9F%A7%B6%20cap.rnd";

/// Letters beyond the Basic Multilingual Plane stand before what is looked at, in the file and in its lines.
const CAP: &str = "pattern 🧶 Cap 🧶
terms US
sizes 𝐒 / 𝐌
set rim = 12 / 18  # 🧶 all round
yarn A \"🧶 tar\", weight 3
stitch vee \"V 🧶\": (dc, ch 1, dc) in next

piece 🧶 Crown, in a spiral
with A
start ring
rnd 1: 6 sc in ring = 6
rnd 2: 2 sc in each st to end = 12
only 𝐌: rnd: [sc, 2 sc in next] to end = {rim}
rnd: sc to end = {rim}
rnd: vee to end
fasten off
";

/// An editor, as far as it matters.
struct Editor {
    server: Child,
    to: Option<ChildStdin>,
    from: BufReader<ChildStdout>,
    asked: u64,
    /// Notifications that came while an answer was waited for.
    told: Vec<Value>,
}

impl Editor {
    /// Starts the server and says nothing.
    fn silent() -> Self {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ringtrue"));
        command.arg("language-server").stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut server = command.spawn().unwrap();
        let (to, from) = (server.stdin.take(), BufReader::new(server.stdout.take().unwrap()));
        Self { server, to, from, asked: 0, told: Vec::new() }
    }

    /// Starts the server, and offers these ways to count characters.
    fn new(encodings: &[&str]) -> (Self, Value) {
        let mut editor = Self::silent();
        let capabilities = json!({ "general": { "positionEncodings": encodings } });
        let told =
            editor.ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": capabilities }));
        editor.tell("initialized", json!({}));
        (editor, told["result"]["capabilities"].clone())
    }

    /// With a pattern open.
    fn with(text: &str) -> Self {
        let mut editor = Self::new(&["utf-16"]).0;
        editor.open(URI, text);
        editor
    }

    fn open(&mut self, uri: &str, text: &str) {
        let document = json!({ "uri": uri, "languageId": "ringtrue", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }));
    }

    fn write(&mut self, bytes: &[u8]) {
        self.to.as_mut().unwrap().write_all(bytes).unwrap();
        self.to.as_mut().unwrap().flush().unwrap();
    }

    fn send(&mut self, text: &str) {
        self.write(format!("Content-Length: {}\r\n\r\n{text}", text.len()).as_bytes());
    }

    fn tell(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }).to_string());
    }

    /// The next message.
    fn hear(&mut self) -> Value {
        let mut length = 0;
        loop {
            let mut line = String::new();
            assert!(self.from.read_line(&mut line).unwrap() > 0, "the server has gone");
            match line.trim_end().split_once(": ") {
                Some(("Content-Length", number)) => length = number.parse().unwrap(),
                Some(_) => {}
                None => break,
            }
        }
        let mut bytes = vec![0; length];
        self.from.read_exact(&mut bytes).unwrap();
        serde_json::from_slice(&bytes).unwrap()
    }

    /// Asks, and waits for the answer.
    fn ask(&mut self, method: &str, params: Value) -> Value {
        self.asked += 1;
        let id = self.asked;
        self.send(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }).to_string());
        loop {
            let heard = self.hear();
            if heard["id"] == id {
                return heard;
            }
            self.told.push(heard);
        }
    }

    /// Asks about the open pattern, and gives the result.
    fn about(&mut self, method: &str, mut params: Value) -> Value {
        params["textDocument"] = json!({ "uri": URI });
        let answer = self.ask(&format!("textDocument/{method}"), params);
        assert!(answer.get("error").is_none(), "{answer}");
        answer["result"].clone()
    }

    /// The diagnostics that are told next.
    fn diagnostics(&mut self) -> Value {
        let heard = if self.told.is_empty() { self.hear() } else { self.told.remove(0) };
        assert_eq!(heard["method"], "textDocument/publishDiagnostics", "{heard}");
        heard["params"].clone()
    }

    /// How the server ends when it is asked to.
    fn end(mut self) -> Option<i32> {
        assert_eq!(self.ask("shutdown", Value::Null)["result"], Value::Null);
        self.tell("exit", Value::Null);
        self.server.wait().unwrap().code()
    }
}

/// The position of a word, so many letters into it, in UTF-16.
fn position(text: &str, word: &str, into: usize) -> Value {
    let byte = text.find(word).unwrap_or_else(|| panic!("{word}")) + into;
    let before = text.get(..byte).unwrap();
    let line = before.rsplit('\n').next().unwrap();
    json!({ "line": before.matches('\n').count(), "character": line.encode_utf16().count() })
}

/// The byte of a position in UTF-16.
fn byte(text: &str, position: &Value) -> usize {
    let [line, character] = ["line", "character"].map(|key| usize::try_from(position[key].as_u64().unwrap()).unwrap());
    let start: usize = text.split_inclusive('\n').take(line).map(str::len).sum();
    let mut units = 0;
    let rest = text.get(start..).unwrap();
    let letter = rest.char_indices().find(|(_, letter)| {
        let here = units == character;
        units += letter.len_utf16();
        here
    });
    letter.map_or(text.len(), |(at, _)| start + at)
}

fn slice<'t>(text: &'t str, range: &Value) -> &'t str {
    text.get(byte(text, &range["start"])..byte(text, &range["end"])).unwrap()
}

/// A text after edits, none of which overlap.
fn edited(text: &str, edits: &Value) -> String {
    let mut edits: Vec<(usize, usize, &str)> = edits
        .as_array()
        .unwrap()
        .iter()
        .map(|edit| {
            let [from, to] = ["start", "end"].map(|end| byte(text, &edit["range"][end]));
            (from, to, edit["newText"].as_str().unwrap())
        })
        .collect();
    edits.sort_unstable();
    let mut out = text.to_owned();
    for (from, to, new) in edits.into_iter().rev() {
        out.replace_range(from..to, new);
    }
    out
}

fn texts<'v>(list: &'v Value, key: &str) -> Vec<&'v str> {
    list.as_array().unwrap().iter().map(|one| one[key].as_str().unwrap_or_default()).collect()
}

#[test]
fn characters_are_counted_as_the_editor_can() {
    let faulty = CAP.replace("= {rim}\nrnd: sc", "= 13\nrnd: sc");
    let line = faulty.lines().find(|line| line.contains("= 13")).unwrap();
    let before = line.split("= 13").next().unwrap();
    let units = before.encode_utf16().count();
    assert!(before.len() > units && units > before.chars().count(), "the two are told apart");
    for (offered, chosen, start) in [
        (&[][..], "utf-16", units),
        (&["utf-16"], "utf-16", units),
        (&["utf-32"], "utf-16", units),
        (&["utf-32", "utf-8", "utf-16"], "utf-8", before.len()),
    ] {
        let (mut editor, capabilities) = Editor::new(offered);
        assert_eq!(capabilities["positionEncoding"], chosen);
        editor.open(URI, &faulty);
        let range = editor.diagnostics()["diagnostics"][0]["range"].clone();
        assert_eq!(range["start"], json!({ "line": 12, "character": start }));
        assert_eq!(range["end"], json!({ "line": 12, "character": start + "= 13".len() }));
        // What stands between the two ends is replaced, counted in the same way.
        let change = json!([{ "range": range, "text": "= {rim}" }]);
        let document = json!({ "uri": URI, "version": 2 });
        editor.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": change }));
        let told = loop {
            let told = editor.diagnostics();
            if told["version"] == 2 {
                break told;
            }
        };
        assert_eq!(told["diagnostics"], json!([]));
        assert_eq!(editor.end(), Some(0));
    }
}

#[test]
fn findings_come_with_each_change_and_go_when_the_file_is_closed() {
    let mut editor = Editor::with(CAP);
    assert_eq!(editor.diagnostics(), json!({ "uri": URI, "version": 1, "diagnostics": [] }));
    // Two changes, the second of which stands in what the first left: `rnd 2: 🧶2 sc`, then the same without it.
    let at = position(CAP, "2 sc in each", 0);
    let after = position(&CAP.replace("2 sc in each", "🧶2 sc in each"), "🧶2", "🧶".len());
    let changes = json!([
        { "range": { "start": at, "end": at }, "text": "🧶" },
        { "range": { "start": at, "end": after }, "text": "" },
        { "range": { "start": at, "end": position(CAP, "2 sc in each", 1) }, "text": "3" },
    ]);
    let change = |version: u32, changes: &Value| json!({ "textDocument": { "uri": URI, "version": version }, "contentChanges": changes });
    editor.tell("textDocument/didChange", change(2, &changes));
    let told = loop {
        let told = editor.diagnostics();
        if told["version"] == 2 {
            break told;
        }
    };
    let found = &told["diagnostics"][0];
    assert_eq!(
        (&found["code"], &found["severity"], &found["source"]),
        (&json!("count"), &json!(1), &json!("ringtrue"))
    );
    assert!(found["message"].as_str().unwrap().contains("18"), "{found}");
    let slip = CAP.replace("rnd 2: 2 sc", "rnd 2: 3 sc");
    assert_eq!(slice(&slip, &found["range"]), "= 12");
    editor.tell("textDocument/didClose", json!({ "textDocument": { "uri": URI } }));
    let told = loop {
        let told = editor.diagnostics();
        if told["version"].is_null() {
            break told;
        }
    };
    assert_eq!(told["diagnostics"], json!([]));
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn a_repair_cures() {
    let faulty = CAP.replace("= 12\n", "= 13\n");
    let mut editor = Editor::with(&faulty);
    let _ = editor.diagnostics();
    // The second time repairs have been looked for.
    let found = editor.diagnostics()["diagnostics"].clone();
    assert_eq!(found.as_array().unwrap().len(), 1, "{found}");
    let everywhere = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 99, "character": 0 } });
    let context = json!({ "diagnostics": found, "only": ["quickfix"] });
    let actions = editor.about("codeAction", json!({ "range": everywhere, "context": context }));
    let first = &actions[0];
    assert_eq!((&first["kind"], &first["diagnostics"]), (&json!("quickfix"), &found), "{actions}");
    let cured = edited(&faulty, &first["edit"]["changes"][URI]);
    assert_eq!(ringtrue::compile(&cured).findings, []);
    let elsewhere = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 1, "character": 0 } });
    let none = editor.about("codeAction", json!({ "range": elsewhere, "context": { "diagnostics": [] } }));
    assert_eq!(none, json!([]));
    let other = json!({ "diagnostics": [], "only": ["source.organizeImports"] });
    assert_eq!(editor.about("codeAction", json!({ "range": everywhere, "context": other })), json!([]));
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn what_stands_at_a_place_is_shown() {
    let mut editor = Editor::with(CAP);
    let hover = |editor: &mut Editor, word: &str| {
        let told = editor.about("hover", json!({ "position": position(CAP, word, 1) }));
        let text = told["contents"]["value"].as_str().unwrap_or_default().to_owned();
        (text, slice(CAP, &told["range"]).to_owned())
    };
    let (told, place) = hover(&mut editor, "sc in ring");
    assert!(told.starts_with("sc: single crochet\nUK terms: dc, double crochet"), "{told}");
    assert_eq!(place, "sc");
    assert_eq!(hover(&mut editor, "rim}"), ("rim, a number\n𝐒 12, 𝐌 18".to_owned(), "rim".to_owned()));
    assert_eq!(
        hover(&mut editor, "rnd 2").0,
        "Rnd 2\n6 places, all used, 12 made, 12 stated\n12: repeats of 2, 3, 4, 6"
    );
    let nothing = editor.about("hover", json!({ "position": { "line": 6, "character": 0 } }));
    assert_eq!(nothing, Value::Null);
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn what_may_come_next_is_offered() {
    let text = format!("{CAP}piece Brim 🧶, in a spiral\nstart top of 🧶 Crown\nrnd 1: half");
    let mut editor = Editor::with(&text);
    let list = editor.about("completion", json!({ "position": position(&text, "half", 4) }));
    let first = &list["items"][0];
    assert_eq!((&first["label"], &first["textEdit"]["newText"]), (&json!("hdc"), &json!("hdc")), "{first}");
    assert_eq!(slice(&text, &first["textEdit"]["range"]), "half");
    assert!(first["documentation"].as_str().unwrap().starts_with("half double crochet"), "{first}");
    let list = editor.about("completion", json!({ "position": position(&text, "rnd: sc to end", 0) }));
    assert_eq!(list["items"][0]["label"], "rnd: ", "the next round has another number in each size: {list}");
    assert_eq!(editor.about("completion", json!({ "position": { "line": 0, "character": 12 } }))["items"], json!([]));
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn counts_stand_behind_their_lines() {
    let mut editor = Editor::with(CAP);
    let range = |from: u32, to: u32| json!({ "start": { "line": from, "character": 0 }, "end": { "line": to, "character": 99 } });
    let hints = editor.about("inlayHint", json!({ "range": range(0, 99) }));
    assert_eq!(
        texts(&hints, "label"),
        ["6 in the ring", "12 · all used", "18 · all used", "12 / 18 · all used", "24 / 36 · all used"]
    );
    let last = &hints[3];
    assert_eq!(last["position"], position(CAP, "rnd: sc to end = {rim}", "rnd: sc to end = {rim}".len()));
    assert!(last["tooltip"].as_str().unwrap().starts_with("𝐒: 12 · all used\n12: repeats of"), "{last}");
    assert_eq!(texts(&editor.about("inlayHint", json!({ "range": range(11, 11) })), "label"), ["12 · all used"]);
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn a_file_is_laid_out_evenly() {
    for ends in ["\n", "\r\n"] {
        let text = CAP.replace("sc to end = {rim}", "sc   to end={rim}").replace('\n', ends);
        let mut editor = Editor::with(&text);
        let options = json!({ "options": { "tabSize": 4, "insertSpaces": true } });
        let edits = editor.about("formatting", options.clone());
        let tidied = edited(&text, &edits);
        assert_eq!(tidied, ringtrue::tidy::tidy(&text).unwrap().replace("\r\n", "\n").replace('\n', ends));
        let whole = json!([{ "text": tidied }]);
        editor.tell(
            "textDocument/didChange",
            json!({ "textDocument": { "uri": URI, "version": 2 }, "contentChanges": whole }),
        );
        assert_eq!(editor.about("formatting", options), json!([]));
        assert_eq!(editor.end(), Some(0));
    }
}

#[test]
fn parts_are_listed_and_folded() {
    let text = CAP.replace("piece 🧶", "grid Tide\n|AA|\n|AA|\npiece 🧶");
    let mut editor = Editor::with(&text);
    let symbols = editor.about("documentSymbol", json!({}));
    assert_eq!(texts(&symbols, "name"), ["🧶 Cap 🧶", "🧶 Crown"]);
    assert_eq!(texts(&symbols[0]["children"], "name"), ["Tide"]);
    assert_eq!(texts(&symbols[1]["children"], "name"), ["Rnd 1", "Rnd 2", "Rnd 3", "Rnd 3", "Rnd 4"]);
    assert!(slice(&text, &symbols[1]["range"]).starts_with("piece 🧶 Crown"));
    assert!(slice(&text, &symbols[1]["range"]).ends_with("fasten off"));
    let folds = editor.about("foldingRange", json!({}));
    let lines: Vec<(u64, u64)> = folds
        .as_array()
        .unwrap()
        .iter()
        .map(|fold| (fold["startLine"].as_u64().unwrap(), fold["endLine"].as_u64().unwrap()))
        .collect();
    assert_eq!(lines, [(0, 9), (7, 9), (10, 18)]);
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn names_are_found_and_given_anew() {
    let mut editor = Editor::with(CAP);
    let at = json!({ "position": position(CAP, "rim}", 0) });
    let with = |more: Value| {
        let mut params = at.clone();
        params.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        params
    };
    let all = editor.about("references", with(json!({ "context": { "includeDeclaration": true } })));
    assert_eq!(all.as_array().unwrap().iter().map(|one| slice(CAP, &one["range"])).collect::<Vec<_>>(), ["rim"; 3]);
    let uses = editor.about("references", with(json!({ "context": { "includeDeclaration": false } })));
    assert_eq!(uses.as_array().unwrap().len(), 2);
    assert_eq!(editor.about("documentHighlight", at.clone()).as_array().unwrap().len(), 3);
    assert_eq!(editor.about("definition", at.clone())["range"]["start"], position(CAP, "rim =", 0));
    let prepared = editor.about("prepareRename", at.clone());
    assert_eq!((slice(CAP, &prepared["range"]), &prepared["placeholder"]), ("rim", &json!("rim")));
    assert_eq!(editor.about("prepareRename", json!({ "position": position(CAP, "start", 0) })), Value::Null);
    let renamed = editor.about("rename", with(json!({ "newName": "edge_count" })));
    assert_eq!(edited(CAP, &renamed["changes"][URI]), CAP.replace("rim", "edge_count"));
    let crown = json!({ "position": position(CAP, "Crown", 0), "newName": "Top 🧶 of all" });
    let renamed = editor.about("rename", crown);
    assert_eq!(edited(CAP, &renamed["changes"][URI]), CAP.replace("🧶 Crown", "Top 🧶 of all"));
    for (word, new) in [("rim}", "4 rim"), ("rim}", ""), ("rim}", "a\nb"), ("vee", "in"), ("𝐒", "𝐌"), ("start", "x")]
    {
        let mut params = json!({ "position": position(CAP, word, 0), "newName": new });
        params["textDocument"] = json!({ "uri": URI });
        let answer = editor.ask("textDocument/rename", params);
        assert_eq!(answer["error"]["code"], -32_803, "{word} to {new:?}: {answer}");
    }
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn words_have_their_classes() {
    let (mut editor, capabilities) = Editor::new(&["utf-16"]);
    editor.open(URI, CAP);
    let legend = &capabilities["semanticTokensProvider"]["legend"]["tokenTypes"];
    let data = editor.about("semanticTokens/full", json!({}))["data"].clone();
    let numbers: Vec<u64> = data.as_array().unwrap().iter().map(|number| number.as_u64().unwrap()).collect();
    let (mut line, mut character) = (0, 0);
    let mut seen = Vec::new();
    for token in numbers.chunks(5) {
        let [lines, start, length, kind, _] = token else { panic!("{token:?}") };
        character = if *lines == 0 { character + start } else { *start };
        line += lines;
        let range = json!({ "start": { "line": line, "character": character }, "end": { "line": line, "character": character + length } });
        seen.push((
            slice(CAP, &range).to_owned(),
            legend[usize::try_from(*kind).unwrap()].as_str().unwrap().to_owned(),
        ));
    }
    for (word, kind) in [
        ("piece", "class"),
        ("🧶 Crown", "class"),
        ("rnd 1", "type"),
        ("sc", "function"),
        ("vee", "macro"),
        ("rim", "variable"),
        ("A", "parameter"),
        ("# 🧶 all round", "comment"),
        ("🧶 tar", "string"),
        ("12", "enumMember"),
        ("with", "namespace"),
    ] {
        assert!(seen.contains(&(word.to_owned(), kind.to_owned())), "{word} is no {kind}: {seen:?}");
    }
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn what_is_broken_is_answered_and_ends_nothing() {
    let mut editor = Editor::silent();
    let code = |answer: &Value| answer["error"]["code"].as_i64().unwrap_or_default();
    assert_eq!(code(&editor.ask("textDocument/hover", json!({}))), -32_002);
    assert_eq!(code(&editor.ask("initialize", json!("sc"))), -32_602);
    editor.tell("textDocument/didOpen", json!({ "textDocument": { "uri": URI } }));
    assert!(editor.ask("initialize", json!({ "capabilities": {} })).get("result").is_some());
    assert_eq!(code(&editor.ask("initialize", json!({ "capabilities": {} }))), -32_600);
    for (bytes, expected) in [
        (&b"Content-Length: 4\r\n\r\n{sc}"[..], -32_700),
        (b"Content-Length: 2\r\n\r\n[]", -32_600),
        (b"Content-Length: 4\r\n\r\n\xff\xfe\x00\xff", -32_700),
        (b"Content-Length: lots\r\n\r\n", -32_700),
        (b"work even until done\r\n\r\n", -32_700),
        (b"Content-Length: 11\r\n\r\n{\"id\":null}", -32_600),
    ] {
        editor.write(bytes);
        let heard = editor.hear();
        assert_eq!((code(&heard), &heard["id"]), (expected, &Value::Null), "{heard}");
    }
    assert_eq!(code(&editor.ask("textDocument/knit", json!({}))), -32_601);
    assert_eq!(code(&editor.ask("textDocument/hover", json!([]))), -32_602);
    editor.open(URI, CAP);
    let _ = editor.diagnostics();
    let here = json!({ "textDocument": { "uri": URI } });
    assert_eq!(code(&editor.ask("textDocument/knit", here.clone())), -32_601);
    assert_eq!(code(&editor.ask("textDocument/hover", here)), -32_602);
    let elsewhere = json!({ "textDocument": { "uri": "file:///none.rnd" } });
    assert_eq!(code(&editor.ask("textDocument/foldingRange", elsewhere)), -32_602);
    editor.tell("textDocument/didChange", json!({ "textDocument": 4 }));
    editor.tell("$/cancelRequest", json!({ "id": 1 }));
    editor.tell("workspace/didChangeConfiguration", json!({}));
    let far = json!({ "line": 4_000_000_000_u64, "character": 4_000_000_000_u64 });
    assert_eq!(editor.about("hover", json!({ "position": far })), Value::Null);
    let change = json!([{ "range": { "start": far, "end": { "line": 0, "character": 1 } }, "text": "p" }]);
    editor.tell(
        "textDocument/didChange",
        json!({ "textDocument": { "uri": URI, "version": 2 }, "contentChanges": change }),
    );
    assert_eq!(editor.about("foldingRange", json!({})).as_array().unwrap().len(), 0);
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn hostile_texts_are_served() {
    let (mut editor, _) = Editor::new(&[]);
    let mut files: Vec<_> = fs::read_dir("tests/fuzz/saved/text").unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let nests = ["[".repeat(3_000), "{".repeat(9_000), "🧶\u{0}\u{feff}\r\r\n".repeat(400)];
    let saved = files.iter().map(|file| String::from_utf8_lossy(&fs::read(file).unwrap()).into_owned());
    for (at, text) in saved.chain(nests).enumerate() {
        editor.open(URI, &text);
        let position = json!({ "line": at % 7, "character": at % 5 });
        for method in ["semanticTokens/full", "documentSymbol", "foldingRange"] {
            editor.about(method, json!({}));
        }
        for method in ["hover", "completion", "documentHighlight"] {
            editor.about(method, json!({ "position": position }));
        }
    }
    assert_eq!(editor.end(), Some(0));
}

#[test]
fn it_ends_as_it_is_asked_to() {
    let mut editor = Editor::with(CAP);
    assert_eq!(editor.ask("shutdown", Value::Null)["result"], Value::Null);
    assert_eq!(editor.ask("textDocument/hover", json!({}))["error"]["code"], -32_600);
    editor.tell("exit", Value::Null);
    assert_eq!(editor.server.wait().unwrap().code(), Some(0));
    let mut editor = Editor::with(CAP);
    editor.tell("exit", Value::Null);
    assert_eq!(editor.server.wait().unwrap().code(), Some(1), "`shutdown` was left out");
    let mut editor = Editor::with(CAP);
    drop(editor.to.take());
    assert_eq!(editor.server.wait().unwrap().code(), Some(1), "the editor went away");
}
