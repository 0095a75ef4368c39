// Elements, made without ever reading a text as HTML: hostile words stay words.
const make = (name, given = {}, ...inside) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(given)) {
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (key in made && key !== "list" && key !== "form") made[key] = value;
    else made.setAttribute(key, value);
  }
  made.append(...inside.filter((one) => one !== null && one !== undefined && one !== false));
  return made;
};
// What stands between backticks is notation.
const noted = (words) => words.split("`").map((part, index) => (index % 2 ? make("code", {}, part) : part));
const by = (id) => document.getElementById(id);
const press = (words, does, given = {}) => make("button", { type: "button", onclick: does, ...given }, ...noted(words));

// Runs something when nothing new has come for so many milliseconds.
const after = (pause, does) => {
  let clock;
  const run = (...given) => {
    clearTimeout(clock);
    clock = setTimeout(() => does(...given), pause);
  };
  run.now = (...given) => {
    clearTimeout(clock);
    does(...given);
  };
  return run;
};

// Runs something once in so many milliseconds at most, however often it is asked for.
const at_most_each = (pause, does) => {
  let clock;
  return () => {
    clock ??= setTimeout(() => {
      clock = undefined;
      does();
    }, pause);
  };
};

// A word of what was done, for eyes and for screen readers.
const say = (words) => {
  by("said").textContent = words;
};

// Gives a text to be kept outside the browser.
const hand_out = (name, text, kind) => {
  const url = URL.createObjectURL(new Blob([text], { type: kind + ";charset=utf-8" }));
  make("a", { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
};
