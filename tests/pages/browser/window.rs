//! A window of a headless browser, driven over a web socket by the protocol of Chromium's developer tools.

use std::fs;
use std::io::Write as _;
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use serde_json::{Value, json};
use tempfile::TempDir;
use tungstenite::stream::MaybeTlsStream;
use tungstenite::{Message, WebSocket, connect};

/// Names a browser; where it is set there has to be one.
const WANTED: &str = "RINGTRUE_BROWSER";

/// Where a browser is looked for otherwise.
const USUAL: [&str; 4] = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];

/// The browser to use; nothing, and a note, where there is none.
pub fn browser() -> Option<PathBuf> {
    if let Some(wanted) = std::env::var_os(WANTED) {
        return Some(PathBuf::from(wanted));
    }
    let path = std::env::var_os("PATH").unwrap_or_default();
    let found =
        std::env::split_paths(&path).flat_map(|folder| USUAL.map(|name| folder.join(name))).find(|p| p.is_file());
    if found.is_none() {
        note(&format!("NOT TESTED: there is no browser here. Install Chromium, or name one in {WANTED}."));
    }
    found
}

/// Says something even though the test passes.
pub fn note(words: &str) {
    let _ = writeln!(std::io::stderr(), "{words}");
}

/// A browser with one window.
pub struct Window {
    process: Child,
    socket: WebSocket<MaybeTlsStream<TcpStream>>,
    session: String,
    asked: u64,
    /// What the browser told by itself: its method and what goes with it.
    pub events: Vec<(String, Value)>,
    _profile: TempDir,
}

impl Window {
    /// Opens an empty window.
    pub fn open(browser: &Path) -> Self {
        let profile = tempfile::tempdir().unwrap();
        let process = Command::new(browser)
            .args(["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"])
            .args(["--disable-dev-shm-usage", "--remote-debugging-port=0", "about:blank"])
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|error| panic!("{} does not start: {error}", browser.display()));
        let address = address(profile.path());
        let (socket, _) = connect(address).unwrap();
        let session = String::new();
        let mut window = Self { process, socket, session, asked: 0, events: Vec::new(), _profile: profile };
        let target = window.ask("Target.createTarget", &json!({ "url": "about:blank" }));
        let attached = window.ask("Target.attachToTarget", &json!({ "targetId": target["targetId"], "flatten": true }));
        attached["sessionId"].as_str().unwrap().clone_into(&mut window.session);
        for domain in ["Page", "Runtime", "Log", "Network"] {
            window.ask(&format!("{domain}.enable"), &json!({}));
        }
        window
    }

    /// Asks the browser for something, and waits until it is done.
    pub fn ask(&mut self, method: &str, with: &Value) -> Value {
        let told = self.answer(method, with);
        assert!(told.get("error").is_none(), "{method}: {told}");
        told["result"].clone()
    }

    /// Asks, and gives back the whole answer.
    fn answer(&mut self, method: &str, with: &Value) -> Value {
        self.tell(method, with);
        loop {
            let told = self.hear();
            if told["id"].as_u64() == Some(self.asked) {
                return told;
            }
        }
    }

    /// Asks, and waits for nothing.
    pub fn tell(&mut self, method: &str, with: &Value) {
        self.asked += 1;
        let mut question = json!({ "id": self.asked, "method": method, "params": with });
        if !self.session.is_empty() {
            question["sessionId"] = json!(self.session);
        }
        self.socket.send(Message::text(question.to_string())).unwrap();
    }

    /// The next thing that the browser says.
    pub fn hear(&mut self) -> Value {
        loop {
            if let Message::Text(text) = self.socket.read().unwrap() {
                let told: Value = serde_json::from_str(&text).unwrap();
                if let Some(method) = told["method"].as_str() {
                    self.events.push((method.to_owned(), told["params"].clone()));
                }
                return told;
            }
        }
    }

    /// Goes to a file and waits until it is there.
    pub fn go(&mut self, file: &Path) {
        self.load("Page.navigate", &json!({ "url": format!("file://{}", file.display()) }));
    }

    /// Loads the page anew.
    pub fn reload(&mut self) {
        self.load("Page.reload", &json!({}));
    }

    /// The old page is marked, so that the new one is known by having no mark.
    fn load(&mut self, method: &str, with: &Value) {
        self.value("window.before = true");
        self.ask(method, with);
        // Between two pages there may be an empty one.
        let is_there = "window.before === undefined && document.querySelector('main') !== null && document.readyState === 'complete'";
        let with = json!({ "expression": is_there, "returnByValue": true });
        for _ in 0..2000 {
            // Between two pages there is nobody to answer.
            let answer = self.answer("Runtime.evaluate", &with);
            if answer["result"]["result"]["value"] == json!(true) {
                return;
            }
            sleep(Duration::from_millis(10));
        }
        panic!("the page does not load");
    }

    /// What an expression is in the page.
    pub fn value(&mut self, expression: &str) -> Value {
        let with = json!({ "expression": expression, "returnByValue": true, "awaitPromise": true });
        let answer = self.ask("Runtime.evaluate", &with);
        assert!(answer.get("exceptionDetails").is_none(), "{expression}: {answer}");
        answer["result"]["value"].clone()
    }

    /// An expression that is a text.
    pub fn text(&mut self, expression: &str) -> String {
        self.value(expression).as_str().unwrap_or_default().to_owned()
    }

    /// How wide the window is, in CSS pixels.
    pub fn width(&mut self, pixels: u32) {
        let size = json!({ "width": pixels, "height": 900, "deviceScaleFactor": 1, "mobile": false });
        self.ask("Emulation.setDeviceMetricsOverride", &size);
    }

    /// What the reader likes better, `dark` or `light`.
    pub fn scheme(&mut self, scheme: &str) {
        let features = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.ask("Emulation.setEmulatedMedia", &features);
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// The browser writes its address into its profile once it listens.
fn address(profile: &Path) -> String {
    for _ in 0..600 {
        let written = fs::read_to_string(profile.join("DevToolsActivePort")).unwrap_or_default();
        if let Some((port, path)) = written.split_once('\n') {
            return format!("ws://127.0.0.1:{port}{}", path.trim());
        }
        sleep(Duration::from_millis(50));
    }
    panic!("the browser does not answer");
}
