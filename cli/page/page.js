"use strict";
(() => {
  const payload = JSON.parse(document.getElementById("payload").textContent);
  const shown = [];
  const dashes = [[], [7, 4], [2, 3], [9, 3, 2, 3]];
  const points = ["circle", "rectRot", "triangle", "rect"];
  const ink = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

  // Hatching for bars and bands: what is told apart must not need colour.
  function hatch(color, gap, slope) {
    const tile = document.createElement("canvas");
    tile.width = tile.height = gap;
    const pen = tile.getContext("2d");
    pen.strokeStyle = color;
    pen.lineWidth = 1;
    pen.beginPath();
    for (const shift of [-gap, 0, gap]) {
      pen.moveTo(shift, slope > 0 ? gap : 0);
      pen.lineTo(shift + gap, slope > 0 ? 0 : gap);
    }
    pen.stroke();
    return pen.createPattern(tile, "repeat");
  }

  const number = text => {
    const value = text.trim() === "" ? NaN : Number(text);
    return Number.isFinite(value) ? value : null;
  };

  const backdrop = {
    id: "backdrop",
    beforeDatasetsDraw(chart, _, options) {
      const {ctx, chartArea: area, scales} = chart;
      if (!options.spec) return;
      ctx.save();
      for (const band of options.spec.bands) {
        const from = Math.max(scales.x.getPixelForValue(band.from), area.left);
        const to = Math.min(scales.x.getPixelForValue(band.to), area.right);
        if (to <= from) continue;
        ctx.fillStyle = hatch(ink(band.dense ? "--s2" : "--s3"), band.dense ? 5 : 9, band.dense ? 1 : -1);
        ctx.globalAlpha = 0.8;
        ctx.fillRect(from, band.dense ? area.bottom - 8 : area.top, to - from, band.dense ? 8 : area.bottom - area.top);
        ctx.globalAlpha = 1;
        if (!band.dense && to - from > 60) {
          ctx.fillStyle = ink("--ink");
          ctx.textAlign = "center";
          ctx.fillText(band.label, (from + to) / 2, area.top + 12);
        }
      }
      ctx.restore();
    },
    afterDatasetsDraw(chart, _, options) {
      const {ctx, chartArea: area, scales} = chart;
      if (!options.spec) return;
      ctx.save();
      ctx.strokeStyle = ctx.fillStyle = ink("--ink");
      ctx.setLineDash([3, 3]);
      let last = -1e9;
      for (const level of options.spec.levels) {
        const lying = options.spec.lying;
        const at = (lying ? scales.x : scales.left).getPixelForValue(level.y);
        ctx.beginPath();
        if (lying) { ctx.moveTo(at, area.top); ctx.lineTo(at, area.bottom); }
        else { ctx.moveTo(area.left, at); ctx.lineTo(area.right, at); }
        ctx.stroke();
        if (!lying && at > area.top && at < area.bottom && Math.abs(at - last) > 12) {
          ctx.textAlign = "left";
          ctx.fillText(level.label, area.left + 4, at - 4);
          last = at;
        }
      }
      ctx.restore();
    }
  };

  function dataset(spec, rows, series, index) {
    const color = ink("--s" + index % 4);
    const y = row => {
      const value = number(row[series.column]);
      return value === null ? series.whereNone : value;
    };
    const common = {label: series.label, borderColor: color, yAxisID: series.right ? "right" : "left"};
    if (series.kind === "bars") {
      return {...common, type: "bar", yAxisID: undefined, borderWidth: 1.5,
              backgroundColor: hatch(color, index % 2 ? 4 : 7, index % 2 ? 1 : -1),
              data: rows.map(y)};
    }
    const line = series.kind === "line";
    return {...common, type: "line", showLine: line, borderWidth: 2, borderDash: dashes[index % 4],
            pointStyle: points[index % 4], pointRadius: line && rows.length > 40 ? 0 : 4,
            pointHitRadius: 6, backgroundColor: color, spanGaps: rows.length < 20,
            data: rows.map(row => ({x: number(row[series.over]), y: y(row)}))
              .filter(at => at.x !== null && (line || at.y !== null))};
  }

  function marks(spec) {
    return spec.marks.map((mark, index) => ({
      type: "line", label: mark.label, yAxisID: "left", order: -1,
      borderColor: ink("--ink"), backgroundColor: ink("--paper"), borderWidth: 2.5,
      pointStyle: mark.toY === null ? ["rectRot", "star", "triangle", "cross"][index % 4] : "line",
      pointRadius: mark.toY === null ? 8 : 6, pointHitRadius: 10, pointBorderWidth: 2.5,
      data: mark.toY === null ? [{x: mark.x, y: mark.y}]
                              : [{x: mark.x, y: mark.y}, {x: mark.x, y: mark.toY}]
    }));
  }

  // Lines without points are told apart in the legend by their dashes.
  function labels(chart) {
    const items = Chart.defaults.plugins.legend.labels.generateLabels(chart);
    for (const item of items) {
      const data = chart.data.datasets[item.datasetIndex];
      if (data.type === "line" && data.pointRadius === 0) {
        Object.assign(item, {pointStyle: "line", lineDash: data.borderDash, lineWidth: 2.5});
      }
    }
    return items;
  }

  function scale(axis, more) {
    return {type: axis.log ? "logarithmic" : "linear", title: {display: true, text: axis.name, color: ink("--ink")},
            ticks: {color: ink("--ink"), maxRotation: 0, autoSkipPadding: 14}, grid: {color: ink("--faint")},
            min: axis.least ?? undefined, max: axis.most ?? undefined, ...more};
  }

  function build(spec) {
    const figure = document.getElementById(spec.id);
    const canvas = figure.querySelector("canvas");
    const rows = [...figure.querySelectorAll("tbody tr")].map(row =>
      [...row.cells].map(cell => cell.textContent));
    if (spec.lying) canvas.parentNode.style.height = Math.max(7, 2.2 * rows.length * spec.series.length ** .5 + 5) + "rem";
    const scales = spec.lying
      ? {x: scale(spec.x, {}), y: {ticks: {color: ink("--ink"), autoSkip: false}, grid: {display: false}}}
      : {x: scale(spec.x, {}), left: scale(spec.left, {position: "left"})};
    if (spec.right.name) scales.right = scale(spec.right, {position: "right", grid: {display: false}});
    const chart = new Chart(canvas, {
      type: spec.lying ? "bar" : "line",
      data: {labels: spec.lying ? rows.map(row => row[0].trim()) : undefined,
             datasets: spec.series.map((series, i) => dataset(spec, rows, series, i)).concat(marks(spec))},
      options: {
        animation: false, responsive: true, maintainAspectRatio: false,
        indexAxis: spec.lying ? "y" : "x",
        interaction: {mode: spec.lying ? "index" : "nearest", axis: spec.lying ? "y" : "x", intersect: false},
        scales,
        plugins: {backdrop: {spec},
                  legend: {position: "bottom", labels: spec.lying
                    ? {color: ink("--ink"), boxWidth: 28}
                    : {color: ink("--ink"), usePointStyle: true, pointStyleWidth: 30, generateLabels: labels}},
                  tooltip: {callbacks: {title: items => spec.lying ? items[0].label : spec.x.name + " " + items[0].parsed.x}}}
      },
      plugins: [backdrop]
    });
    let at = -1;
    canvas.addEventListener("keydown", event => {
      const step = {ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1, PageDown: 20, PageUp: -20}[event.key];
      if (!step) return;
      event.preventDefault();
      const count = chart.data.datasets[0].data.length;
      at = Math.min(Math.max(at + step, 0), count - 1);
      const items = spec.series.map((_, i) => ({datasetIndex: i, index: at}))
        .filter(item => at < chart.data.datasets[item.datasetIndex].data.length);
      chart.setActiveElements(items);
      chart.tooltip.setActiveElements(items, {x: 0, y: 0});
      chart.update("none");
    });
    shown.push(chart);
  }

  function draw() {
    while (shown.length) shown.pop().destroy();
    Chart.defaults.font.family = getComputedStyle(document.body).fontFamily;
    Chart.defaults.font.size = 12;
    for (const spec of payload.charts) {
      try { build(spec); } catch (error) { console.error(spec.id + ": " + error.message); }
    }
  }

  draw();
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", draw);
  matchMedia("print").addEventListener("change", draw);

  for (const field of document.querySelectorAll("input[data-search]")) {
    field.addEventListener("input", () => {
      for (const row of document.getElementById(field.dataset.search).tBodies[0].rows) {
        row.hidden = !row.textContent.toLowerCase().includes(field.value.toLowerCase());
      }
    });
  }
})();
