"use strict";
// Two of these run beside the page: one for quick looks, one for the tries. The one with the tries
// is ended and begun anew when something else is wanted.
let ask = null;
onmessage = ({data}) => {
  try {
    if (data.module) { ask = openCore(data.module, data.input); return; }
    if (data.question.ask !== "judge") { postMessage({id: data.id, answer: ask(data.question)}); return; }
    ask(data.question);
    for (;;) {
      const answer = ask({ask: "next"});
      postMessage({id: data.id, answer});
      if (answer.step === "done") return;
    }
  } catch (fault) {
    postMessage({id: data.id, error: String(fault.message || fault)});
  }
};
