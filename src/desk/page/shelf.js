// The shelf: all patterns kept in this browser, each with its earlier versions; and files in and out.
const shelf = (() => {
  let given, now, file, broken;
  let kept_text = "";
  let once_more;
  const channel = window.BroadcastChannel ? new BroadcastChannel("ringtrue desk") : null;

  const title_of = (text) => (text.match(/^\s*pattern\s+(.+?)\s*(?:#.*)?$/m)?.[1] ?? "").trim() || "Pattern without a title";
  const file_name = (ending) =>
    (title_of(writing.text()).toLowerCase().match(/[\p{L}\d]+/gu) ?? ["pattern"]).join("-") + ending;
  const fail = (error) => {
    broken = true;
    // There may be room again later.
    clearTimeout(once_more);
    once_more = setTimeout(() => keep(), 5000);
    by("kept").textContent = not_kept(error);
    by("kept").className = "lost";
  };
  const told_kept = () => {
    broken = false;
    by("kept").textContent = file ? "Kept in this browser; the file is saved when you press Save." : "Kept in this browser.";
    by("kept").className = "";
  };

  const fresh = (text) => ({
    id: crypto.randomUUID?.() ?? String(Date.now()) + Math.random(),
    text,
    title: title_of(text),
    changed: Date.now(),
  });

  // Keeps what stands there now. What another tab wrote in the meantime becomes an earlier version, and nothing is lost.
  const keep = async () => {
    const text = writing.text();
    if (text === kept_text) return;
    now ??= fresh(text);
    try {
      const other = await keeping.one(now.id);
      if (other && other.changed > now.changed && other.text !== text)
        await keeping.keep_version({ of: now.id, at: other.changed, text: other.text, why: "written in another tab" });
      now = { ...now, text, title: title_of(text), changed: Date.now() };
      await keeping.keep(now);
      kept_text = text;
      told_kept();
      channel?.postMessage(now.id);
    } catch (error) {
      fail(error);
    }
  };

  // Another tab wrote this pattern. Where nothing was typed here since, it goes along with that one; else both are kept.
  const elsewhere = async () => {
    try {
      const other = await keeping.one(now.id);
      if (!other || other.text === writing.text()) return;
      if (writing.text() === kept_text) {
        now = other;
        kept_text = other.text;
        writing.replace(other.text);
        say("This pattern is open in another tab too; what was written there stands here now.");
      } else {
        await keep();
        say("This pattern was changed in another tab too; what was written there is on the shelf, as an earlier version.");
      }
    } catch (error) {
      fail(error);
    }
  };

  const keep_version = async (why, text = writing.text()) => {
    if (!now || !text.trim()) return;
    try {
      const [last] = await keeping.versions(now.id);
      if (last?.text === text) return;
      await keeping.keep_version({ of: now.id, at: Date.now(), text, why });
    } catch (error) {
      fail(error);
    }
  };

  const open = async (pattern, from) => {
    await keep();
    now = pattern;
    file = from;
    kept_text = pattern.text;
    writing.open(pattern.text);
    by("title").textContent = title_of(pattern.text);
    try {
      localStorage.setItem("ringtrue desk: open", pattern.id);
    } catch {
      // Which pattern was open last is then not remembered; all else goes on.
    }
    given.opened();
  };

  const add = async (text, from) => {
    const pattern = fresh(text);
    try {
      await keeping.keep(pattern);
      told_kept();
    } catch (error) {
      fail(error);
    }
    await open(pattern, from);
  };

  const day = (at) => new Date(at).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });

  const versions = async (pattern, place) => {
    const all = await keeping.versions(pattern.id);
    const entry = (one) => {
      const differences = make("pre", { hidden: true });
      const compare = async () => {
        const answer = await engine.slowly({ do: "differ", old: one.text, new: pattern.id === now?.id ? writing.text() : pattern.text });
        differences.textContent = answer.refused ? sentence(answer.refused) : answer.note;
        differences.hidden = false;
      };
      const back = async () => {
        if (pattern.id !== now?.id) await open(pattern);
        await keep_version("before going back");
        writing.replace(one.text);
        by("shelf").close();
      };
      return make("li", {}, `${day(one.at)}: ${one.why} `, press("What is different", compare), " ", press("Go back to it", back), differences);
    };
    place.replaceChildren(...(all.length ? all.map(entry) : [make("li", {}, "No earlier version yet.")]));
    place.hidden = false;
  };

  // The pattern on the desk was removed: nothing lies there then, and what is typed next is a new one.
  const begin_anew = async () => {
    now = file = undefined;
    kept_text = "";
    writing.open("");
    given.opened();
  };

  const entry = (pattern) => {
    const old = make("ul", { hidden: true, className: "versions" });
    const remove = make("span");
    const sure = () =>
      remove.replaceChildren(
        "It goes for good, with its versions. ",
        press("Remove it", async () => {
          await keeping.remove(pattern.id);
          if (pattern.id === now?.id) await begin_anew();
          await show();
        }),
      );
    const take = async () => {
      await open(pattern);
      by("shelf").close();
    };
    return make(
      "li",
      {},
      press(pattern.title, take, { className: "take" }),
      make("span", { className: "when" }, " " + day(pattern.changed) + " "),
      press("Earlier versions", () => versions(pattern, old)),
      " ",
      press("Remove…", sure),
      remove,
      old,
    );
  };

  const show = async () => {
    await keep();
    let all = [];
    try {
      all = await keeping.all();
    } catch (error) {
      fail(error);
    }
    by("patterns").replaceChildren(...(all.length ? all.map(entry) : [make("li", {}, "The shelf is empty.")]));
    if (!by("shelf").open) by("shelf").showModal();
  };

  const words_of = async (from, words) => {
    const bytes = new Uint8Array(await from.arrayBuffer());
    let packed = "";
    for (let at = 0; at < bytes.length; at += 8192) packed += String.fromCharCode(...bytes.subarray(at, at + 8192));
    return engine.slowly({ do: "open", bytes: btoa(packed), words });
  };

  // Everything in one file, for another browser or for later.
  const save_all = async () => {
    await keep();
    try {
      const versions_of = async (one) => (await keeping.versions(one.id)).map(({ at, text, why }) => ({ at, text, why }));
      const patterns = await Promise.all((await keeping.all()).map(async (one) => ({ ...one, versions: await versions_of(one) })));
      const name = `ringtrue-shelf-${new Date().toISOString().slice(0, 10)}.json`;
      hand_out(name, JSON.stringify({ ringtrue: "shelf", format: 1, patterns }, null, 1), "application/json");
      told(`${counted(patterns.length)} saved to your downloads as ${name}.`);
    } catch (error) {
      fail(error);
      told(not_kept(error));
    }
  };
  const counted = (number) => (number === 1 ? "1 pattern" : `${number} patterns`);
  const told = (words) => {
    say(words);
    by("shelf-said").textContent = by("shelf").open ? words : "";
  };

  // Nothing that is here is lost by it: where a pattern is here with other words, those of the file become an earlier version.
  const take_all = async (words) => {
    let saved;
    try {
      saved = JSON.parse(words);
    } catch {
      // Told below.
    }
    const is_pattern = (one) => typeof one?.id === "string" && typeof one.text === "string";
    if (saved?.ringtrue !== "shelf" || !Array.isArray(saved.patterns) || !saved.patterns.every(is_pattern)) {
      return told("This is no saved shelf; nothing was taken in.");
    }
    await keep();
    try {
      let added = 0;
      for (const { id, text, changed, versions } of saved.patterns) {
        const at = Number(changed) || Date.now();
        const here = await keeping.one(id);
        if (!here) {
          added += 1;
          await keeping.keep({ id, text, title: title_of(text), changed: at });
        }
        const old = await keeping.versions(id);
        const coming = (Array.isArray(versions) ? versions : []).filter((one) => typeof one?.text === "string");
        if (here && here.text !== text) coming.push({ at, text, why: "from a saved shelf" });
        const new_ones = coming.filter((one) => !old.some((other) => other.at === one.at && other.text === one.text));
        for (const one of new_ones) await keeping.keep_version({ of: id, at: Number(one.at) || at, text: one.text, why: String(one.why ?? "") });
      }
      await show();
      const were = saved.patterns.length - added;
      told(`${counted(added)} taken in.` + (were ? ` ${counted(were)} stood here already; what the file has of them is among the earlier versions.` : ""));
    } catch (error) {
      fail(error);
      told(not_kept(error));
    }
  };

  // A pattern in the notation is opened; anything else is an old pattern, to be taken in.
  const open_file = async (from, handle) => {
    if (/\.json$/i.test(from.name)) return take_all(await from.text());
    if (from.size > 20000000) return say("This file is too large for a pattern.");
    const notation = /\.rnd$/i.test(from.name);
    const answer = await words_of(from, !notation);
    if (answer.refused) return say(`${from.name} ${answer.refused}.`);
    if (notation) return add(answer.text, handle);
    taking.show(answer.text);
  };

  const pick = async () => {
    if (!window.showOpenFilePicker) return by("file").click();
    try {
      const [handle] = await window.showOpenFilePicker();
      await open_file(await handle.getFile(), handle);
    } catch (error) {
      if (error.name !== "AbortError") by("file").click();
    }
  };

  const save = async (as) => {
    await keep();
    try {
      if (window.showSaveFilePicker && (as || !file)) file = await window.showSaveFilePicker({ suggestedName: file_name(".rnd") });
      if (!file) throw new Error("no file system");
      const stream = await file.createWritable();
      await stream.write(writing.text());
      await stream.close();
      say("Saved to " + file.name + ".");
    } catch (error) {
      if (error.name === "AbortError") return;
      hand_out(file_name(".rnd"), writing.text(), "text/plain");
      say("Saved to your downloads as " + file_name(".rnd") + ".");
    }
    keep_version("saved");
  };

  // A pattern that rings true is worth a version, but not with every letter.
  let last_true = 0;
  const rings_true = () => {
    if (Date.now() - last_true < 600000) return;
    last_true = Date.now();
    keep_version("rang true");
  };

  return {
    begin: (hooks) => {
      given = hooks;
      by("file").onchange = () => by("file").files[0] && open_file(by("file").files[0]);
      by("shelf-close").onclick = () => by("shelf").close();
      by("keep-version").onclick = async () => {
        await keep_version("kept by you");
        say("This version is kept.");
        await show();
      };
      by("shelf-save").onclick = save_all;
      by("shelf-take").onclick = () => by("file").click();
      channel?.addEventListener("message", ({ data }) => data === now?.id && elsewhere());
      // What can't be kept is not left without being asked.
      window.addEventListener("beforeunload", (event) => broken && writing.text() !== kept_text && event.preventDefault());
      for (const event of ["pagehide", "visibilitychange"]) window.addEventListener(event, keep);
    },
    // What was open last, or nothing at a first visit.
    last: async () => {
      try {
        const all = await keeping.all();
        const id = localStorage.getItem("ringtrue desk: open");
        const pattern = all.find((one) => one.id === id) ?? all[0];
        if (pattern) await open(pattern);
        told_kept();
        return Boolean(pattern);
      } catch (error) {
        fail(error);
        return false;
      }
    },
    keep,
    keep_version,
    add,
    show,
    pick,
    open_file,
    save,
    file: file_name,
    title: () => title_of(writing.text()),
    rings_true,
    is_broken: () => broken,
  };
})();

// An old pattern taken in: its words on one side, what they were read as on the other.
const taking = (() => {
  let read;
  const nothing = { text: "", told: "", chosen: [], left: [], of: 0 };
  // What could not be read, each with its own words: a press shows them among the others.
  const not_read = ({ line, words, not_read, from, to }) => {
    const show = () => {
      const field = by("old-words");
      field.focus();
      field.setSelectionRange(from, to);
      // The field has no other way to bring a line into sight.
      field.scrollTop = (field.scrollHeight * line) / field.value.split("\n").length - field.clientHeight / 3;
    };
    const why = not_read ? make("p", {}, "Not understood from here on: ", make("b", {}, not_read)) : null;
    return make("li", {}, press(words, show, { className: "place" }), why);
  };
  const look = async () => {
    const text = by("old-words").value;
    const answer = text.trim() ? await engine.slowly({ do: "take_in", text }, "take in").catch(() => null) : nothing;
    if (!answer) return;
    read = answer.text;
    by("old-read").textContent = answer.text;
    by("old-told").textContent = [answer.told, ...answer.chosen].filter(Boolean).map(sentence).join(" ");
    by("old-left").hidden = !answer.left.length;
    by("old-left").lastElementChild.replaceChildren(...answer.left.map(not_read));
    by("old-take").disabled = !answer.of;
  };
  return {
    begin: () => {
      by("old-words").addEventListener("input", after(300, look));
      by("old-take").onclick = () => {
        by("taking").close();
        shelf.add(read);
      };
      by("old-close").onclick = () => by("taking").close();
    },
    show: (words = "") => {
      by("old-words").value = words;
      by("taking").showModal();
      look();
    },
  };
})();
