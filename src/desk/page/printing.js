// What is printed is the page for makers and never the desk, by whatever way printing is asked for: a button, a key, or the
// browser's own menu. When the browser is about to print, the page stands in the desk's document, for paper alone.
const printing = (() => {
  let page, text;

  // The words and the style of the page; scripts are nothing for paper.
  const read = (whole) => {
    const doc = new DOMParser().parseFromString(whole, "text/html");
    for (const script of doc.querySelectorAll("script")) script.remove();
    return doc;
  };

  let before;
  const put = () => {
    const fresh = page !== undefined && text === writing.text();
    if (!fresh) {
      by("printed").replaceChildren(make("p", {}, "The page for makers is printed from the sheet “Page”: lay it on top, and print again."));
      return;
    }
    const doc = read(page);
    const root = document.documentElement;
    before = { title: document.title, lang: root.lang, className: root.className };
    const styles = [...doc.querySelectorAll("style")].map((one) => make("style", { media: "print" }, one.textContent));
    by("printed").replaceChildren(...styles, ...[...doc.body.childNodes].map((one) => document.adoptNode(one)));
    Object.assign(root, { lang: doc.documentElement.lang, className: doc.documentElement.className });
    document.title = doc.title;
  };
  const take_away = () => {
    by("printed").replaceChildren();
    if (!before) return;
    const { title, ...rest } = before;
    Object.assign(document.documentElement, rest);
    document.title = title;
    before = undefined;
  };

  return {
    read,
    begin: () => {
      window.addEventListener("beforeprint", put);
      window.addEventListener("afterprint", take_away);
    },
    // The page that was made of a text.
    made: (of_text, whole) => {
      text = of_text;
      page = whole;
    },
    print: () => window.print(),
  };
})();
