// The field in which the pattern is written: colours of words, what each line made at its end, and messages below their lines.
// All of it comes from one view of the text; while a newer one is on its way, the old one moves along with what is typed.
const writing = (() => {
  const { Decoration, EditorView, StateEffect, StateField, WidgetType } = editing;
  const shown = StateEffect.define();
  const messages = StateEffect.define();
  let field, given = {};

  class Count extends WidgetType {
    constructor(told, kind) {
      super();
      Object.assign(this, { told, kind });
    }
    eq(other) {
      return this.told === other.told && this.kind === other.kind;
    }
    toDOM() {
      return make("span", { className: "made " + this.kind }, this.told);
    }
    ignoreEvent() {
      return false;
    }
  }

  class Message extends WidgetType {
    constructor(finding, of) {
      super();
      Object.assign(this, { finding, of, key: JSON.stringify(finding) });
    }
    eq(other) {
      return this.key === other.key && this.of.eq(other.of);
    }
    toDOM() {
      // The field measures heights without margins, so the room around a message is the padding of what it stands in.
      return make("div", { className: "under", contentEditable: "false" }, message(this.finding, this.of, { className: "below " + this.finding.severity }));
    }
    ignoreEvent() {
      return true;
    }
  }

  const in_order = (ranges) => Decoration.set(ranges, true);
  const inside = (one, length) => one.from >= 0 && one.to <= length && one.from < one.to;

  const colours = (view, length) =>
    in_order(
      view.words
        .filter(([from, to]) => from < to && to <= length)
        .map(([from, to, kind]) => Decoration.mark({ class: "w-" + kind }).range(from, to)),
    );
  const faults = (view, length) =>
    view.findings
      .filter((one) => inside(one, length))
      .map((one) => Decoration.mark({ class: "fault " + one.severity }).range(one.from, one.to));
  const counts = (view, size, length) =>
    view.lines
      .filter((line) => line.to <= length && line.told[size])
      .map((line) => {
        const count = line.counts[size];
        const kind = !count ? "" : count.closes ? "closes" : "open";
        return Decoration.widget({ widget: new Count(line.told[size], kind), side: 1 }).range(line.to);
      });
  const below = (view, doc) =>
    in_order(
      view.findings
        .filter((one) => one.to <= doc.length)
        .map((one) => Decoration.widget({ widget: new Message(one, doc), block: true, side: 2 }).range(doc.lineAt(one.from).to)),
    );

  // A field of decorations that are drawn anew by an effect, and till then move with the text.
  const drawn = (effect) =>
    StateField.define({
      create: () => Decoration.none,
      update: (old, change) => {
        const next = change.effects.find((one) => one.is(effect));
        return next ? next.value : old.map(change.changes);
      },
      provide: (own) => EditorView.decorations.from(own),
    });
  const words_shown = StateEffect.define();
  const words_drawn = drawn(words_shown);
  const counts_drawn = drawn(shown);
  const messages_drawn = drawn(messages);

  // A repair is one of the text that it was tried in; it waits while another one stands there.
  const offer = () => {
    for (const one of document.querySelectorAll(".repair")) one.disabled = !field.state.doc.eq(one.of);
  };

  // Answers that are on their way, with what was typed since they were asked for.
  const asked = new Set();
  // The text of which was told last what becomes of it.
  let told_of;
  const text = () => field.state.doc.toString();
  const ask = async (bench, repairs, kind) => {
    const doc = field.state.doc;
    const one = { since: undefined };
    asked.add(one);
    try {
      const view = await bench({ do: "view", text: doc.toString(), repairs }, kind);
      // Another pattern lies on the desk by now: this says nothing of it.
      if (!asked.has(one)) return null;
      if (view) take(view, doc, one.since, repairs);
      return view && !one.since ? view : null;
    } finally {
      asked.delete(one);
    }
  };

  const take = (view, doc, since, repairs) => {
    const move = (drawing) => (since ? drawing.map(since) : drawing);
    const size = Math.min(given.size(), Math.max(view.sizes.length - 1, 0));
    const effects = [
      words_shown.of(move(colours(view, doc.length))),
      shown.of(move(in_order([...faults(view, doc.length), ...counts(view, size, doc.length)]))),
    ];
    if (repairs) effects.push(messages.of(move(below(view, doc))));
    field.dispatch({ effects });
    offer();
    view.of = told_of = doc;
    given.seen(view, repairs && !since, !since);
  };

  const complete = async (context) => {
    if (!context.explicit && !context.matchBefore(/[\p{L}\d]+/u)) return null;
    const answer = await engine.typing({ do: "next", text: text(), at: context.pos }, "next").catch(() => null);
    const all = answer && answer.next;
    if (!all || !all.length) return null;
    const options = all.map((one) => ({
      label: one.shown,
      apply: one.insert,
      info: one.how ? () => make("div", { className: "how" }, one.how) : undefined,
    }));
    return { from: all[0].from, options, filter: false };
  };

  const about = editing.hoverTooltip(async (view, at) => {
    const answer = await engine.typing({ do: "about", text: text(), at }, "about").catch(() => null);
    if (!answer || !answer.about) return null;
    const { title, text: lines, from } = answer.about;
    const inside = [make("strong", {}, title), ...lines.map((line) => make("p", {}, line))];
    return { pos: from, create: () => ({ dom: make("div", { className: "about" }, ...inside) }) };
  });

  // A piece is folded below its first line.
  const folded = editing.foldService.of((state, start) => {
    const piece = (given.view()?.outline ?? []).find((one) => one.line === state.doc.lineAt(start).number - 1);
    if (!piece || piece.last_line <= piece.line || piece.last_line >= state.doc.lines) return null;
    return { from: state.doc.line(piece.line + 1).to, to: state.doc.line(piece.last_line + 1).to };
  });

  const keys = [
    { key: "Mod-s", run: () => (given.save(), true) },
    { key: "Mod-m", run: () => (given.mend(), true) },
    { key: "Mod-p", run: () => (given.print(), true) },
  ];

  // A new text is a new state, so that undo never goes back into another pattern.
  const state = (doc) =>
    editing.EditorState.create({
      doc,
      extensions: [
        editing.lineNumbers(),
        editing.foldGutter(),
        editing.history(),
        editing.drawSelection(),
        editing.highlightActiveLine(),
        editing.search({ top: true }),
        // Enter begins a new line, unless one of the list was gone to.
        editing.autocompletion({ override: [complete], activateOnTypingDelay: 250, selectOnOpen: false }),
        folded,
        about,
        words_drawn,
        counts_drawn,
        messages_drawn,
        editing.placeholder("Write here, a line for each row or round, or press New. “How to write” has lines to copy."),
        EditorView.lineWrapping,
        // Room for a message below the line that is written.
        EditorView.scrollMargins.of((view) => ({ bottom: Math.min(110, view.scrollDOM.clientHeight / 3) })),
        EditorView.contentAttributes.of({ "aria-label": "The pattern, as text", spellcheck: "false", autocapitalize: "off", autocorrect: "off" }),
        editing.keymap.of([
          ...keys,
          ...editing.completionKeymap,
          ...editing.searchKeymap,
          ...editing.historyKeymap,
          ...editing.foldKeymap,
          ...editing.defaultKeymap,
        ]),
        EditorView.updateListener.of((update) => {
          if (update.docChanged) {
            for (const one of asked) one.since = one.since ? one.since.compose(update.changes) : update.changes;
            offer();
            given.typed();
          }
          if (update.selectionSet || update.docChanged) given.moved();
        }),
      ],
    });

  return {
    begin: (place, hooks) => {
      given = hooks;
      field = new EditorView({ state: state(""), parent: place });
    },
    ask,
    text,
    open: (doc) => {
      asked.clear();
      field.setState(state(doc));
    },
    // One change that undo takes back in one step; what is alike at both ends stays, and the cursor with it.
    replace: (doc) => {
      const old = text();
      const most = Math.min(old.length, doc.length);
      let from = 0;
      while (from < most && old[from] === doc[from]) from += 1;
      let tail = 0;
      while (tail < most - from && old[old.length - 1 - tail] === doc[doc.length - 1 - tail]) tail += 1;
      if (old !== doc) field.dispatch({ changes: { from, to: old.length - tail, insert: doc.slice(from, doc.length - tail) } });
    },
    // Puts a line below the one with the cursor, or into that one where it is blank.
    put: (words) => {
      const line = field.state.doc.lineAt(field.state.selection.main.head);
      const insert = line.text.trim() ? "\n" + words : words;
      const from = line.text.trim() ? line.to : line.from;
      field.dispatch({ changes: { from, to: line.to, insert }, selection: { anchor: from + insert.length }, scrollIntoView: true });
      field.focus();
    },
    words_at: (at) => field.state.doc.lineAt(Math.min(at, field.state.doc.length)).text.trim(),
    // Whether what is told is told of the text that stands there.
    is_told: () => told_of !== undefined && field.state.doc.eq(told_of),
    // Whether this text stands there, letter by letter.
    is: (doc) => field.state.doc.eq(doc),
    edit: (edits, of) => {
      if (!field.state.doc.eq(of)) return;
      field.dispatch({ changes: edits.map(({ from, to, text: insert }) => ({ from, to, insert })), scrollIntoView: true });
      // Under a finger the keys would bring up a keyboard that nobody asked for.
      if (!matchMedia("(pointer: coarse)").matches) field.focus();
    },
    go: (at) => {
      field.dispatch({ selection: { anchor: Math.min(at, field.state.doc.length) }, effects: EditorView.scrollIntoView(at, { y: "center" }) });
      field.focus();
    },
    // Brings a place into sight within the field, and moves nothing else: neither the keys, which would bring up the keyboard of a
    // phone, nor the desk, whose keys are under a finger.
    show: (at) => {
      field.dispatch({ selection: { anchor: Math.min(at, field.state.doc.length) } });
      const { bottom } = field.lineBlockAt(field.state.selection.main.head);
      const scroller = field.scrollDOM;
      const below = bottom + 30 - scroller.clientHeight;
      if (scroller.scrollTop < below || scroller.scrollTop > bottom) scroller.scrollTop = below;
    },
    at: () => field.state.selection.main.head,
    line: () => field.state.doc.lineAt(field.state.selection.main.head),
    focus: () => field.focus(),
    undo: () => editing.undo(field),
    find: () => editing.openSearchPanel(field),
  };
})();

// A message about a text, with its facts and its repairs; a repair is one press, as long as that text stands there.
const message = (finding, of, given = {}) => {
  const repairs = finding.fixes.map((fix) =>
    Object.assign(press(fix.title, () => writing.edit(fix.edits, of), { className: "repair", disabled: !writing.is(of) }), { of }),
  );
  const facts = [finding.label, ...finding.notes, ...finding.help].filter(Boolean).map((one) => make("p", { className: "fact" }, ...noted(sentence(one))));
  const places = finding.others.map((one) =>
    make("p", {}, press(one.text || "also here", () => writing.go(one.from), { className: "place" })),
  );
  const sign = finding.severity === "error" ? "Doesn’t ring true: " : "To look at: ";
  return make(
    "div",
    given,
    make("p", { className: "told" }, make("b", {}, sign), ...noted(finding.message)),
    ...facts,
    ...places,
    repairs.length > 0 && make("p", { className: "repairs" }, make("span", {}, repairs.length > 1 ? "What mends it: " : "This mends it: "), ...repairs),
  );
};
