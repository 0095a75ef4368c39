// Questions to the engine. There are two workers, so that a page that takes long keeps no key waiting. One that takes too long is
// ended, and another one started: nothing is lost with it but its answer.
const engine = (() => {
  const unpack = async () => {
    const packed = Uint8Array.from(atob(document.getElementById("engine").textContent.trim()), (c) => c.charCodeAt(0));
    const whole = new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip")));
    return WebAssembly.compile(await whole.arrayBuffer());
  };
  const compiled = unpack();
  const script = URL.createObjectURL(new Blob([document.getElementById("worker").textContent], { type: "text/javascript" }));

  class Late extends Error {}

  // Answers one question after the other. `patience` is in milliseconds.
  const bench = (patience) => {
    let worker, ready, asked, clock;
    const waiting = [];

    const start = () => {
      worker = new Worker(script);
      ready = false;
      compiled.then((module) => worker.postMessage({ engine: module }));
      worker.onmessage = ({ data }) => (data.ready ? begin() : done((one) => one.tell(JSON.parse(data.answer))));
      worker.onerror = (event) => {
        event.preventDefault();
        restart(new Error("the engine stopped at this pattern"));
      };
    };
    const begin = () => {
      ready = true;
      next();
    };
    const next = () => {
      if (!ready || asked || !waiting.length) return;
      asked = waiting.shift();
      clock = setTimeout(() => restart(new Late("this takes too long")), patience);
      worker.postMessage({ question: JSON.stringify(asked.question) });
    };
    const done = (tell) => {
      const one = asked;
      clearTimeout(clock);
      asked = undefined;
      if (one) tell(one);
      next();
    };
    const restart = (why) => {
      worker.terminate();
      start();
      done((one) => one.fail(why));
    };
    start();

    // Only the newest question of a kind is of use; one of the same kind that still waits is dropped.
    return (question, kind) =>
      new Promise((tell, fail) => {
        const old = kind === undefined ? -1 : waiting.findIndex((one) => one.kind === kind);
        if (old >= 0) waiting.splice(old, 1)[0].tell(null);
        waiting.push({ question, kind, tell, fail });
        next();
      });
  };

  return { typing: bench(500), slowly: bench(20000), compiled, Late };
})();
