// node ask_core.js CORE.js CORE.wasm INPUT QUESTIONS.json: a line of JSON for each question.
const fs = require("fs");
const [, , script, core, input, questions] = process.argv;
const open = new Function(fs.readFileSync(script, "utf8") + "; return openCore;")();
const ask = open(new WebAssembly.Module(fs.readFileSync(core)), fs.readFileSync(input));
for (const question of JSON.parse(fs.readFileSync(questions, "utf8"))) {
  const begun = performance.now();
  let answer;
  try { answer = ask(question); } catch (fault) { answer = {error: fault.message}; }
  console.log(JSON.stringify({...answer, ms: performance.now() - begun}));
}
