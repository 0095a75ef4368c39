// Holds the engine. A message is one question; its answer goes back as text. The desk ends this worker when it takes too long.
"use strict";
let engine;
const writer = new TextEncoder();
const reader = new TextDecoder();

// Room may move when the memory grows, so it is looked up each time.
const ask = (question) => {
  const bytes = writer.encode(question);
  const at = engine.room_for(bytes.length);
  new Uint8Array(engine.memory.buffer, at, bytes.length).set(bytes);
  const length = engine.answer_it();
  return reader.decode(new Uint8Array(engine.memory.buffer, engine.where_it_lies(), length));
};

onmessage = async ({ data }) => {
  if (data.engine) {
    engine = (await WebAssembly.instantiate(data.engine, {})).exports;
    postMessage({ ready: true });
    return;
  }
  postMessage({ answer: ask(data.question) });
};
