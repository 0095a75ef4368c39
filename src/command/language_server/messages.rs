//! Messages as they come and go on the streams: a head with their length, and JSON (JSON-RPC 2.0). What is broken is told, and the
//! next message is looked for.

use std::io::{self, BufRead, Read, Write};

use serde_json::{Value, json};

/// A line of a head has no more bytes than this.
const LONGEST_LINE: u64 = 4_096;

/// A message has no more bytes than this: a pattern as large as they may be, with every letter escaped, and room.
const LARGEST: u64 = 64_000_000;

/// What was read.
#[derive(Debug, Clone, PartialEq)]
pub enum Received {
    /// A request, which is answered.
    Request {
        /// Its number or name.
        id: Value,
        /// What is asked for.
        method: String,
        /// What it is asked of.
        params: Value,
    },
    /// A message that nobody answers.
    Notification {
        /// What it tells.
        method: String,
        /// Of what.
        params: Value,
    },
    /// The answer to a question of ours; we ask none.
    Response,
    /// What is no message.
    Broken(Error),
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Error {
    /// A number of JSON-RPC or of the protocol.
    pub code: i64,
    /// Why.
    pub message: String,
}

impl Error {
    /// It is no JSON.
    pub const PARSE: i64 = -32_700;
    /// It is no request.
    pub const INVALID_REQUEST: i64 = -32_600;
    /// No such request is known.
    pub const UNKNOWN_METHOD: i64 = -32_601;
    /// What it is asked of is not what it should be.
    pub const INVALID_PARAMS: i64 = -32_602;
    /// A fault of ours.
    pub const INTERNAL: i64 = -32_603;
    /// Something was asked before `initialize`.
    pub const NOT_INITIALIZED: i64 = -32_002;
    /// It was understood, and can't be done.
    pub const FAILED: i64 = -32_803;

    /// An error with its number.
    pub fn new(code: i64, message: impl Into<String>) -> Self {
        Self { code, message: message.into() }
    }
}

/// An answer as it is written.
pub fn answer(id: &Value, result: Result<Value, Error>) -> Value {
    match result {
        Ok(result) => json!({ "jsonrpc": "2.0", "id": id, "result": result }),
        Err(Error { code, message }) => {
            json!({ "jsonrpc": "2.0", "id": id, "error": { "code": code, "message": message } })
        }
    }
}

/// Writes a message.
pub fn write(out: &mut impl Write, message: &Value) -> io::Result<()> {
    let text = message.to_string();
    write!(out, "Content-Length: {}\r\n\r\n{text}", text.len())?;
    out.flush()
}

/// Reads the next message; nothing where there is no more to read.
pub fn read(input: &mut impl BufRead) -> Option<Received> {
    match head(input)? {
        Ok(length) if length > LARGEST => {
            io::copy(&mut input.take(length), &mut io::sink()).ok()?;
            Some(broken("the message is too large"))
        }
        Ok(length) => {
            let mut bytes = Vec::new();
            let read = input.take(length).read_to_end(&mut bytes).ok()?;
            // Half a message is what a dying editor leaves.
            (u64::try_from(read) == Ok(length)).then(|| understood(&bytes))
        }
        Err(why) => Some(broken(why)),
    }
}

/// Reads the head of a message up to its empty line, and gives the length of what follows.
fn head(input: &mut impl BufRead) -> Option<Result<u64, &'static str>> {
    let mut length = None;
    let mut wrong = None;
    loop {
        let mut line = Vec::new();
        let read = input.take(LONGEST_LINE).read_until(b'\n', &mut line).ok()?;
        if read == 0 {
            return None;
        }
        let line = String::from_utf8_lossy(&line);
        match line.trim_end().split_once(':') {
            Some((name, value)) if name.eq_ignore_ascii_case("Content-Length") => match value.trim().parse() {
                Ok(number) => length = Some(number),
                Err(_) => wrong = Some("its length is no number"),
            },
            Some(_) => {}
            None if line.trim_end().is_empty() => break,
            None => wrong = Some("a line of its head is no head"),
        }
    }
    match (length, wrong) {
        // The length counts, so that what follows is not taken for the next head.
        (Some(length), _) => Some(Ok(length)),
        (None, wrong) => Some(Err(wrong.unwrap_or("its head has no length"))),
    }
}

fn broken(why: &str) -> Received {
    Received::Broken(Error::new(Error::PARSE, format!("this message can't be read: {why}")))
}

fn understood(bytes: &[u8]) -> Received {
    let Ok(mut message) = serde_json::from_slice::<Value>(bytes) else { return broken("it is no JSON") };
    let method = message.get("method").and_then(Value::as_str).map(str::to_owned);
    let id = message.get("id").filter(|id| id.is_string() || id.is_number()).cloned();
    let params = message.get_mut("params").map(Value::take).unwrap_or_default();
    match (method, id) {
        (Some(method), Some(id)) => Received::Request { id, method, params },
        (Some(method), None) if message.get("id").is_none() => Received::Notification { method, params },
        (None, Some(_)) if message.get("result").is_some() || message.get("error").is_some() => Received::Response,
        _ => Received::Broken(Error::new(Error::INVALID_REQUEST, "this is no request")),
    }
}

#[cfg(test)]
mod tests {
    use super::{Error, Received, read};

    fn all(mut bytes: &[u8]) -> Vec<Received> {
        std::iter::from_fn(|| read(&mut bytes)).collect()
    }

    fn framed(text: &str) -> String {
        format!(
            "Content-Length: {}\r\nContent-Type: application/vscode-jsonrpc; charset=utf-8\r\n\r\n{text}",
            text.len()
        )
    }

    #[test]
    fn what_is_broken_does_not_hide_what_comes_after_it() {
        let good = framed(r#"{"jsonrpc":"2.0","method":"exit"}"#);
        for bad in [
            framed("{"),
            framed("[]"),
            framed("\"sc\""),
            framed(r#"{"id":null,"method":"hover"}"#),
            "Content-Length: many\r\n\r\n".to_owned(),
            "sc to end\r\n\r\n".to_owned(),
            "\r\n".to_owned(),
        ] {
            let told = all(format!("{bad}{good}").as_bytes());
            let [Received::Broken(Error { .. }), Received::Notification { method, .. }] = told.as_slice() else {
                panic!("{bad}: {told:?}")
            };
            assert_eq!(method, "exit");
        }
    }

    #[test]
    fn half_a_message_is_the_end() {
        let whole = framed(r#"{"jsonrpc":"2.0","id":1,"method":"shutdown"}"#);
        assert_eq!(all(whole.as_bytes()).len(), 1);
        assert_eq!(all(&whole.as_bytes()[..whole.len() - 3]), []);
    }

    #[test]
    fn any_bytes_are_read_to_their_end() {
        for bytes in [&b"\xff\xfe\n\n\xff"[..], b"Content-Length: 3\n\n\xff\xff\xff", b"Content-Length: -1\n\n", b""] {
            assert!(all(bytes).iter().all(|received| matches!(received, Received::Broken(_))));
        }
    }
}
