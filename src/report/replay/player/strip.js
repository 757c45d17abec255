// What every truck does through the day under one rule, row by row, with a cursor at the moment.
const ROWS_SHOWN = 120;
const makeStrip = (panel, strip, idle, { pause, go, show }) => {
  let shownDay = -1;
  const span = () => data.days > 1 ? [shownDay * DAY, (shownDay + 1) * DAY] : [data.from, data.to];
  let cursor = null;
  const drawRows = () => {
    const day = Math.floor(state.at / DAY);
    if (cursor && (data.days === 1 || day === shownDay)) return;
    shownDay = day;
    const [from, to] = span(), percent = (at) => 100 * (at - from) / (to - from) + "%";
    const used = data.trucks.map((truck, number) => [truck, number])
      .filter(([, number]) => panel.stints[number].some((s) => s[0] < to && s[1] > from));
    const unused = data.fleet - used.length;
    idle.textContent = (used.length > ROWS_SHOWN ? "The first " + ROWS_SHOWN + " of " + used.length + " trucks. " : "")
      + (unused > 0 ? unused + " more truck" + (unused === 1 ? "" : "s") + " had no driver all day." : "");
    const axis = element("div", "row axis"), scaleBox = element("div");
    axisHours(from, to, Math.min(14, Math.floor(strip.clientWidth / 60))).forEach((at) => {
      const label = element("em", "", hourAndMinute(at));
      label.style.left = percent(at);
      if (at === to) label.style.transform = "translateX(-100%)";
      scaleBox.append(label);
    });
    axis.append(element("span", "", ""), scaleBox);
    const rows = used.slice(0, ROWS_SHOWN).map(([truck, number]) => {
      const row = element("div", "row" + (number === state.shown ? " shown" : "")), bar = element("div", "bar");
      row.dataset.truck = number;
      const picture = drawn("svg", { viewBox: "0 0 1000 10", preserveAspectRatio: "none", "aria-hidden": "true" }, bar);
      for (const [begins, ends, doing] of panel.stints[number]) {
        const left = Math.max(begins, from), right = Math.min(ends, to);
        if (left >= right) continue;
        const thin = doing === FREE ? 3 : 0;
        drawn("rect", {
          class: "fill" + doing, x: (1000 * (left - from) / (to - from)).toFixed(2), y: thin,
          width: (1000 * (right - left) / (to - from)).toFixed(2), height: 10 - 2 * thin,
        }, picture);
      }
      for (const [at, of, kind] of panel.trouble) {
        if (of !== number || at < from || at >= to) continue;
        const tick = element("i", kind, kind === "stranded" ? "×" : "");
        tick.style.left = percent(at);
        bar.append(tick);
      }
      bar.addEventListener("click", (click) => {
        const box = bar.getBoundingClientRect();
        pause();
        show(number);
        go(from + (to - from) * (click.clientX - box.left) / box.width);
      });
      row.append(element("span", "", truck), bar);
      return row;
    });
    const over = element("div", "over");
    cursor = element("div", "cursor");
    over.append(cursor);
    strip.replaceChildren(axis, ...rows, over);
  };
  const draw = () => {
    drawRows();
    const [from, to] = span();
    cursor.style.left = 100 * (state.at - from) / (to - from) + "%";
  };
  // Drawn anew with the next moment: its width or its day is another.
  const again = () => { cursor = null; };
  const mark = () => {
    strip.querySelectorAll(".row").forEach((row) => row.classList.toggle("shown", row.dataset.truck === String(state.shown)));
  };
  return { draw, again, mark };
};
