"use strict";
(async () => {
  const one = id => document.getElementById(id);
  const ink = document.createElementNS.bind(document, "http://www.w3.org/2000/svg");
  const payload = JSON.parse(one("payload").textContent);
  const stop = text => { one("state").textContent = text; document.body.dataset.state = "stopped"; };

  // ---- the core, in three places: here for the picture, beside for quick looks and for the tries
  const packed = Uint8Array.from(atob(one("core").textContent.replace(/\s/g, "")), c => c.charCodeAt(0));
  if (typeof WebAssembly !== "object" || typeof DecompressionStream !== "function") {
    return stop("This browser is too old to compute here: it lacks WebAssembly or DecompressionStream.");
  }
  const input = Uint8Array.from(payload.input.match(/../g) || [], pair => parseInt(pair, 16));
  let module, ask;
  try {
    const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
    module = await WebAssembly.compile(await new Response(stream).arrayBuffer());
    ask = openCore(module, input);
  } catch (fault) {
    return stop("The core of this page cannot be run here: " + (fault.message || fault));
  }
  const script = URL.createObjectURL(new Blob(
    [one("core-script").textContent, one("worker-script").textContent], {type: "text/javascript"}));
  function helper(hear) {
    const worker = new Worker(script);
    worker.onmessage = ({data}) => hear(data);
    worker.postMessage({module, input});
    return worker;
  }
  const start = ask({ask: "start"});

  // ---- what is turned: everything in SI; null: as the job has it
  const state = {pass: 0, riser: null, stickout: null, depth: 0, speed: 0};
  const pass = () => start.passes[state.pass];
  const inch = start.inch, unit = inch ? 0.0254 : 0.001, unitName = inch ? "in" : "mm";
  const turns = {
    riser: {of: () => pass().riser, step: inch ? 0.05 * unit : unit, name: () => "height of " + pass().riser.name},
    stickout: {of: () => pass().stickout, step: inch ? 0.02 * unit : 0.5 * unit, name: () => "stickout of the cutter"},
    depth: {of: () => ({value_m: pass().depth_m, least_m: 5e-5, most_m: deepest()}),
            step: inch ? 0.005 * unit : 0.1 * unit, name: () => "depth of the cut"}
  };
  const judgedHeadings = new Map();
  const headings = () => judgedHeadings.get(state.pass) ?? null;
  let deepestKnown = Infinity;
  const deepest = () => Math.max(Math.min(deepestKnown, value("stickout") ?? 1, 1), 1e-4);
  function value(what) {
    if (what === "depth") return state.depth;
    return state[what] ?? pass()[what]?.value_m ?? null;
  }
  function turn(what, metres) {
    const range = turns[what].of();
    if (!range || !Number.isFinite(metres)) return;
    const kept = Math.min(Math.max(metres, range.least_m), range.most_m);
    const given = Math.abs(kept - range.value_m) < 5e-8;
    state[what] = what === "depth" ? (given ? range.value_m : kept) : given ? null : kept;
    if (what === "stickout") state.depth = Math.min(state.depth, deepest());
  }
  function turnSpeed(rpm) {
    if (!Number.isFinite(rpm)) return;
    const kept = Math.min(Math.max(rpm, 1), 1e6);
    state.speed = Math.abs(kept - pass().speed_rpm) < 1e-6 ? pass().speed_rpm : kept;
  }
  function choosePass(index) {
    const before = pass();
    state.pass = index;
    if (before.riser?.tier !== pass().riser?.tier) state.riser = null;
    if (before.tool !== pass().tool) state.stickout = null;
    state.depth = pass().depth_m;
    state.speed = pass().speed_rpm;
    deepestKnown = Infinity;
  }
  const setting = () => ({pass: state.pass, riser_height_m: pass().riser ? state.riser : null,
                          stickout_m: pass().stickout ? state.stickout : null,
                          depth_m: state.depth, speed_rpm: state.speed});

  const plain = (number, digits) => {
    const text = number.toFixed(digits);
    return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
  };
  const length = metres => plain(metres / unit, inch ? 4 : 2);
  const withUnit = metres => length(metres) + " " + unitName;

  // ---- the address keeps the setting, so that it can be sent
  function writeAddress() {
    const parts = ["pass=" + (state.pass + 1)];
    if (state.riser !== null) parts.push("riser=" + plain(state.riser * 1e3, 6) + "mm");
    if (state.stickout !== null) parts.push("stickout=" + plain(state.stickout * 1e3, 6) + "mm");
    if (state.depth !== pass().depth_m) parts.push("depth=" + plain(state.depth * 1e3, 6) + "mm");
    if (state.speed !== pass().speed_rpm) parts.push("speed=" + plain(state.speed, 4) + "rpm");
    const address = "#" + parts.join("&");
    if (location.hash !== address) history.replaceState(null, "", address);
  }
  function readAddress() {
    const said = new Map(location.hash.slice(1).split("&").map(part => {
      const [key, text] = part.split("=");
      return [key, Number.parseFloat(text)];
    }));
    const index = said.get("pass") - 1;
    state.pass = Number.isInteger(index) && index >= 0 && index < start.passes.length ? index : payload.pass;
    state.riser = state.stickout = null;
    state.depth = pass().depth_m;
    state.speed = pass().speed_rpm;
    for (const what of ["riser", "stickout", "depth"]) {
      if (Number.isFinite(said.get(what))) turn(what, said.get(what) / 1e3);
    }
    turnSpeed(said.get("speed") ?? NaN);
  }

  // ---- the picture
  const stage = one("stage"), picture = one("picture"), overlay = one("handles");
  const shapes = {riser: "M-11 -4H11V4H-11Z", stickout: "M0 10L-9 -5H9Z", depth: "M0 -8L8 0L0 8L-8 0Z"};
  let view = null, held = null, handles = [];
  function draw() {
    let drawn;
    try {
      drawn = ask({ask: "drawing", setting: setting(), hold: held, headings: headings()});
    } catch (fault) {
      return say("state", "This cannot be drawn: " + fault.message);
    }
    picture.innerHTML = drawn.svg;
    const svg = picture.querySelector("svg");
    overlay.setAttribute("viewBox", svg.getAttribute("viewBox"));
    handles = drawn.handles;
    if (!held) view = drawn.view;
    for (const handle of handles) place(handle);
    for (const knob of overlay.querySelectorAll(".knob")) {
      knob.style.display = handles.some(handle => handle.turns === knob.dataset.turns) ? "" : "none";
    }
  }
  function place(handle) {
    let knob = overlay.querySelector(`[data-turns="${handle.turns}"]`);
    if (!knob) {
      knob = ink("g");
      knob.setAttribute("class", "knob");
      knob.dataset.turns = handle.turns;
      knob.setAttribute("tabindex", "0");
      knob.setAttribute("role", "slider");
      knob.setAttribute("aria-orientation", "vertical");
      const reach = ink("circle"), mark = ink("path");
      reach.setAttribute("r", "18");
      reach.setAttribute("class", "reach");
      mark.setAttribute("d", shapes[handle.turns]);
      knob.append(reach, mark, ink("title"));
      knob.addEventListener("pointerdown", event => grab(event, handle.turns, knob));
      knob.addEventListener("keydown", event => press(event, handle.turns));
      overlay.append(knob);
    }
    const range = turns[handle.turns].of();
    knob.setAttribute("transform", `translate(${handle.at[0]} ${handle.at[1]})`);
    knob.setAttribute("aria-label", turns[handle.turns].name());
    knob.setAttribute("aria-valuenow", length(value(handle.turns)));
    knob.setAttribute("aria-valuemin", length(range.least_m));
    knob.setAttribute("aria-valuemax", length(range.most_m));
    knob.setAttribute("aria-valuetext", withUnit(value(handle.turns)));
    knob.querySelector("title").textContent = turns[handle.turns].name() + ", " + withUnit(value(handle.turns));
  }
  function grab(event, what, knob) {
    if (event.button > 0) return;
    event.preventDefault();
    knob.focus({preventScroll: true});
    knob.setPointerCapture(event.pointerId);
    held = {...view, still: what === "stickout" ? "tool" : "table"};
    const handle = handles.find(one => one.turns === what);
    const from = value(what), [x, y] = [event.clientX, event.clientY];
    const pixels = overlay.getScreenCTM().a;
    const [dx, dy] = handle.along, size = dx * dx + dy * dy;
    const move = at => {
      if (size < 1) return;
      const metres = ((at.clientX - x) * dx + (at.clientY - y) * dy) / pixels / size;
      const fine = turns[what].step;
      turn(what, Math.round((from + metres) / fine) * fine);
      turned();
    };
    const end = () => {
      knob.removeEventListener("pointermove", move);
      for (const kind of ["pointerup", "pointercancel"]) knob.removeEventListener(kind, end);
      held = null;
      settled();
    };
    knob.addEventListener("pointermove", move);
    for (const kind of ["pointerup", "pointercancel"]) knob.addEventListener(kind, end);
  }
  let resting = 0;
  function press(event, what) {
    const steps = {ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 10, PageDown: -10}[event.key];
    const range = turns[what].of();
    if (steps) turn(what, value(what) + steps * (event.shiftKey ? 10 : 1) * turns[what].step);
    else if (event.key === "Home") turn(what, range.least_m);
    else if (event.key === "End") turn(what, range.most_m);
    else return;
    event.preventDefault();
    turned();
    clearTimeout(resting);
    resting = setTimeout(settled, 500);
  }

  // ---- fields
  const fields = {riser: one("field-riser"), stickout: one("field-stickout"), depth: one("field-depth")};
  const speedField = one("field-speed"), passField = one("field-pass");
  function showFields() {
    for (const [what, field] of Object.entries(fields)) {
      const range = turns[what].of();
      field.disabled = !range;
      one("why-" + what).textContent = range ? "" : pass()["why_no_" + what];
      if (!range) { field.value = ""; continue; }
      field.min = length(range.least_m);
      field.max = length(range.most_m);
      if (document.activeElement !== field) field.value = length(value(what));
    }
    if (document.activeElement !== speedField) speedField.value = plain(state.speed, 1);
    if (passField) passField.value = state.pass;
    one("name-riser").textContent = pass().riser ? "Height of " + pass().riser.name : "Riser";
  }
  for (const [what, field] of Object.entries(fields)) {
    field.addEventListener("input", () => { turn(what, field.valueAsNumber * unit); turned(); });
    field.addEventListener("change", settled);
  }
  speedField.addEventListener("input", () => { turnSpeed(speedField.valueAsNumber); turned(); });
  speedField.addEventListener("change", settled);
  if (passField) passField.addEventListener("change", () => { choosePass(Number(passField.value)); settled(); });
  one("reset").addEventListener("click", () => {
    state.riser = state.stickout = null;
    state.depth = pass().depth_m;
    state.speed = pass().speed_rpm;
    settled();
  });
  addEventListener("hashchange", () => { readAddress(); settled(); });

  one("copy").addEventListener("click", async () => {
    const text = ask({ask: "job", setting: setting()}).toml, box = one("job-text");
    box.value = text;
    one("job-box").open = true;
    try {
      await navigator.clipboard.writeText(text);
      say("copied", "Copied: a job file with these sizes.");
    } catch {
      box.focus();
      box.select();
      say("copied", "Here it is, selected: copy it.");
    }
  });

  // ---- questions and answers
  const say = (id, text) => { if (one(id).textContent !== text) one(id).textContent = text; };
  let count = 0, quickBusy = false, quickWanted = null, tries = null, triesId = 0, asked = 0;
  const shown = {quick: null, full: null, edge: null};
  const looker = helper(data => {
    const took = performance.now() - asked;
    quickBusy = false;
    if (quickWanted) { const next = quickWanted; quickWanted = null; look(next); }
    if (data.error) {
      if (data.id === count) fail(data.error);
      return;
    }
    deepestKnown = data.answer.deepest_m;
    if (data.id < shown.quickId) return;
    shown.quickId = data.id;
    shown.quick = data.answer;
    document.body.dataset.quickMs = Math.round(took);
    if (document.body.dataset.state === "looking" || document.body.dataset.state === "trying") showQuick();
    drawStrip();
    showFields();
  });
  shown.quickId = 0;
  function look(question) {
    if (quickBusy) { quickWanted = question; return; }
    quickBusy = true;
    asked = performance.now();
    looker.postMessage(question);
  }
  const pending = "Computed edge, tries pending.";
  function showQuick() {
    if (shown.edge) return;
    say("sentence", shown.quick.sentence);
    one("level").innerHTML = one("more").innerHTML = "";
    say("caution", "");
    say("state", pending + " Quick predictor: the averaged (zero-order) edge, at " + shown.quick.speed_rpm.length +
        " speeds.");
  }
  function fail(text) {
    say("sentence", "This cannot be computed: " + text);
    one("level").innerHTML = one("more").innerHTML = "";
    say("caution", "");
    say("state", "");
    document.body.dataset.state = "failed";
  }

  // Something moves: the picture at once, the quick look as fast as it comes, no tries.
  function turned() {
    if (tries) { tries.terminate(); tries = null; }
    clearTimeout(resting);
    shown.edge = shown.full = null;
    document.body.dataset.state = "looking";
    draw();
    showFields();
    writeAddress();
    count += 1;
    look({id: count, question: {ask: "quick", setting: setting(), headings: headings()}});
  }
  // It rests: the tries and the level.
  function settled() {
    turned();
    document.body.dataset.state = "trying";
    triesId += 1;
    const id = triesId, begun = performance.now();
    tries = helper(data => {
      if (data.id !== triesId) return;
      if (data.error) return fail(data.error);
      document.body.dataset[data.answer.step + "Ms"] = Math.round(performance.now() - begun);
      take(data.answer);
    });
    tries.postMessage({id, question: {ask: "judge", setting: setting()}});
  }
  function take(answer) {
    if (answer.step === "edge") {
      shown.edge = answer;
      judgedHeadings.set(state.pass, answer.headings);
      say("sentence", answer.sentence);
      say("state", pending + " Edge by the delay equation itself at this speed; over the speeds still averaged.");
    } else if (answer.step === "level") {
      one("level").innerHTML = answer.level_html;
      say("sentence", answer.sentence);
      one("more").innerHTML = answer.dots_html;
      say("caution", answer.caution);
      for (const text of answer.more) {
        const item = document.createElement("p");
        item.textContent = text;
        one("more").append(item);
      }
      say("state", "Levels over the speeds are on their way.");
    } else if (answer.step === "speeds") {
      shown.full = answer;
      say("state", answer.speeds_left ? `Levels over the speeds: ${answer.speeds_left} to come.` : "");
    } else {
      say("state", "Edge by the delay equation itself at the speeds that may be run, elsewhere averaged; level by " +
          start.draws + " tries, as check judges them.");
      document.body.dataset.state = "done";
    }
    drawStrip();
  }

  // ---- the strip over the speeds
  const strip = one("strip"), words = {unflagged: "nothing flagged", marginal: "marginal", avoid: "avoid"};
  let cursor = null;
  function rows() {
    const list = new Map();
    const add = (rpm, row) => list.set(rpm, {rpm, ...list.get(rpm), ...row});
    if (shown.quick) shown.quick.speed_rpm.forEach((rpm, i) => add(rpm, {averaged: shown.quick.edge_m[i]}));
    if (shown.full) {
      shown.full.speed_rpm.forEach((rpm, i) => add(rpm, {
        edge: shown.full.edge_m[i], exact: true, level: shown.full.level[i], reasons: shown.full.reasons[i],
        share: shown.full.share[i]}));
    }
    return [...list.values()].sort((a, b) => a.rpm - b.rpm);
  }
  const edgeOf = row => row.exact ? row.edge : row.averaged;
  const edgeText = row => edgeOf(row) === null ? "none as deep as was searched"
    : withUnit(edgeOf(row)) + (row.exact ? "" : " (averaged)");
  const rowText = row => `${plain(row.rpm, 0)} rpm: edge ${edgeText(row)}` +
    (row.share == null ? "" : `; ${plain(row.share * 100, 0)} % of the tries chatter`) +
    (row.level ? `; ${words[row.level]}${row.reasons ? ": " + row.reasons : ""}` : "");

  function drawStrip() {
    const list = rows();
    strip.replaceChildren();
    if (!list.length) return;
    const wide = Math.max(strip.clientWidth, 280), tall = 220, left = 50, right = 14, top = 12, floor = 150, cells = 158;
    strip.setAttribute("viewBox", `0 0 ${wide} ${tall}`);
    const first = list[0].rpm, last = list[list.length - 1].rpm;
    const deepestEdge = Math.max(...list.map(row => edgeOf(row) ?? 0));
    const most = Math.max(Math.min(deepestEdge, 4 * state.depth), 1.6 * state.depth);
    const x = rpm => left + (rpm - first) / (last - first) * (wide - left - right);
    const y = metres => floor - Math.min(metres / most, 1) * (floor - top);
    const add = (kind, attributes, text) => {
      const made = ink(kind);
      for (const [key, entry] of Object.entries(attributes)) made.setAttribute(key, entry);
      if (text) made.textContent = text;
      strip.append(made);
      return made;
    };
    const from = i => i ? (x(list[i - 1].rpm) + x(list[i].rpm)) / 2 : left;
    const to = i => i + 1 < list.length ? (x(list[i].rpm) + x(list[i + 1].rpm)) / 2 : wide - right;
    // Beyond the edge: hatched. Under it: plain.
    list.forEach((row, i) => {
      const edge = edgeOf(row) ?? Infinity;
      add("rect", {class: "beyond", x: from(i), width: Math.max(to(i) - from(i), 0), y: top,
                   height: Math.max(y(edge) - top, 0)});
    });
    for (const exact of [false, true]) {
      let path = "", pen = false;
      list.forEach((row, i) => {
        const known = exact ? row.exact : !row.exact;
        if (!known) { pen = false; return; }
        path += `${pen ? "L" : "M"}${from(i)} ${y(edgeOf(row) ?? Infinity)}H${to(i)}`;
        pen = true;
      });
      if (path) add("path", {class: exact ? "edge" : "edge averaged", d: path});
    }
    list.forEach((row, i) => {
      if (row.level) {
        add("rect", {class: "cell " + row.level, x: from(i), y: cells,
                     width: Math.max(to(i) - from(i), 0), height: 16});
      }
    });
    add("rect", {class: "frame", x: left, y: top, width: wide - left - right, height: floor - top});
    add("rect", {class: "frame", x: left, y: cells, width: wide - left - right, height: 16});
    add("line", {class: "taken", x1: left, x2: wide - right, y1: y(state.depth), y2: y(state.depth)});
    add("text", {x: wide - right - 4, y: y(state.depth) - 4, "text-anchor": "end", class: "halo"}, "this cut " + withUnit(state.depth));
    add("line", {class: "now", x1: x(state.speed), x2: x(state.speed), y1: top, y2: cells + 16});
    add("text", {x: left - 4, y: top + 9, "text-anchor": "end"}, plain(most / unit, inch ? 2 : 1) + " " + unitName);
    add("text", {x: left - 4, y: floor, "text-anchor": "end"}, "0");
    add("text", {x: left - 4, y: cells + 12, "text-anchor": "end"}, "tries");
    const step = [100, 200, 500, 1000, 2000, 5000, 10000, 20000].find(s => (last - first) / s <= wide / 80) || 50000;
    for (let rpm = Math.ceil(first / step) * step; rpm <= last; rpm += step) {
      const end = x(rpm) > wide - right - 16;
      add("text", {x: end ? wide - 2 : x(rpm), y: cells + 32, "text-anchor": end ? "end" : "middle"}, plain(rpm, 0));
    }
    add("text", {x: (left + wide - right) / 2, y: cells + 50, "text-anchor": "middle"}, "spindle speed, rpm");
    if (cursor !== null) {
      const row = list.reduce((a, b) => Math.abs(b.rpm - cursor) < Math.abs(a.rpm - cursor) ? b : a);
      add("line", {class: "cursor", x1: x(row.rpm), x2: x(row.rpm), y1: top, y2: cells + 16});
      say("readout", rowText(row));
      strip.setAttribute("aria-valuenow", Math.round(row.rpm));
      strip.setAttribute("aria-valuetext", rowText(row));
    } else {
      const now = list.find(row => Math.abs(row.rpm - state.speed) < 1e-6);
      say("readout", now ? rowText(now) : "");
      strip.setAttribute("aria-valuenow", Math.round(state.speed));
      strip.setAttribute("aria-valuetext", one("readout").textContent);
    }
    strip.setAttribute("aria-valuemin", Math.round(first));
    strip.setAttribute("aria-valuemax", Math.round(last));
    strip.at = clientX => {
      const box = strip.getBoundingClientRect();
      const along = (clientX - box.left) / box.width * wide;
      return first + (along - left) / (wide - left - right) * (last - first);
    };
    fillTable(list);
  }
  function fillTable(list) {
    const body = one("strip-rows");
    body.replaceChildren(...list.map(row => {
      const line = document.createElement("tr");
      for (const text of [plain(row.rpm, 0), edgeOf(row) === null ? "none found" : length(edgeOf(row)),
                          row.exact ? "delay equation" : "averaged",
                          row.share == null ? "" : plain(row.share * 100, 0),
                          row.level ? words[row.level] : "", row.reasons || ""]) {
        line.append(Object.assign(document.createElement("td"), {textContent: text}));
      }
      return line;
    }));
  }
  strip.addEventListener("pointermove", event => { if (strip.at) { cursor = strip.at(event.clientX); drawStrip(); } });
  strip.addEventListener("pointerleave", () => { cursor = null; drawStrip(); });
  strip.addEventListener("keydown", event => {
    const list = rows();
    if (!list.length) return;
    const here = cursor ?? state.speed;
    let i = list.reduce((best, row, k) => Math.abs(row.rpm - here) < Math.abs(list[best].rpm - here) ? k : best, 0);
    const steps = {ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 6, PageDown: -6}[event.key];
    if (steps) i = Math.min(Math.max(i + steps, 0), list.length - 1);
    else if (event.key === "Home") i = 0;
    else if (event.key === "End") i = list.length - 1;
    else if (event.key === "Escape") { cursor = null; drawStrip(); return; }
    else return;
    event.preventDefault();
    cursor = list[i].rpm;
    drawStrip();
  });
  strip.addEventListener("blur", () => { cursor = null; drawStrip(); });
  new ResizeObserver(drawStrip).observe(strip.parentNode);

  readAddress();
  document.body.dataset.ready = "yes";
  settled();
})();
