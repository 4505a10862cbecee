"use strict";
// The computing core: WebAssembly made from the program's own C++. It is handed the job's bytes and
// answers questions; both are JSON texts.
function openCore(module, input) {
  // What it asks of its surroundings: to be stopped, and things that are not to be had here (8).
  const around = {};
  for (const {module: from, name} of WebAssembly.Module.imports(module)) {
    around[from] ??= {};
    around[from][name] = name === "proc_exit" ? code => { throw new Error("the core stopped: " + code); } : () => 8;
  }
  const core = new WebAssembly.Instance(module, around).exports;
  core._initialize();
  const put = bytes => {
    const place = core.standfast_room(bytes.length);
    new Uint8Array(core.memory.buffer, place, bytes.length).set(bytes);
    return place;
  };
  const text = place => {
    const memory = new Uint8Array(core.memory.buffer);
    return new TextDecoder().decode(memory.slice(place, memory.indexOf(0, place)));
  };
  const place = put(input);
  const refused = core.standfast_load(place, input.length);
  core.standfast_let_go(place);
  if (refused) throw new Error(text(refused));
  const encoder = new TextEncoder();
  return question => {
    const bytes = encoder.encode(JSON.stringify(question));
    const place = put(Uint8Array.of(...bytes, 0));
    const answer = JSON.parse(text(core.standfast_answer(place)));
    core.standfast_let_go(place);
    if (answer.error) throw new Error(answer.error);
    return answer;
  };
}
