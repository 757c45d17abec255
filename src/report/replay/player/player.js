// Plays the day: one clock, one slider and the keys move the maps of all rules, the lists beside them and the rows below.
const calm = window.matchMedia("(prefers-reduced-motion: reduce)");
const truckNumbers = new Map(data.trucks.map((name, number) => [name, number]));
const follow = byId("follow");
data.trucks.forEach((name, number) => {
  const option = element("option", "", name);
  option.value = number;
  follow.append(option);
});
const show = (number) => {
  state.shown = number;
  follow.value = number >= 0 ? number : "";
  for (const panel of panels) panel.strip.mark();
  draw();
};
const slider = byId("time"), face = byId("clock"), said = byId("said"), play = byId("play");
slider.min = Math.round(data.from / MINUTE);
slider.max = Math.round(data.to / MINUTE);
const fraction = (at) => 100 * (at - data.from) / (data.to - data.from) + "%";
const drawTime = () => {
  const box = byId("hours");
  box.replaceChildren(...axisHours(data.from, data.to, box.clientWidth < 500 ? 6 : 18).map((at) => {
    const label = element("span", "", data.to - data.from > 3 * DAY ? "day " + (at / DAY + 1).toFixed(0) : hourAndMinute(at));
    label.style.left = fraction(at);
    if (at === data.to) label.style.transform = "translateX(-100%)";
    return label;
  }));
};
document.querySelectorAll(".marks").forEach((marks, nth) => marks.replaceChildren(...data.panels[nth].trouble.map(([at, , kind]) => {
  const tick = element("span", kind, kind === "stranded" ? "×" : "");
  tick.style.left = fraction(at);
  return tick;
})));
let saying = 0;
// Nothing is said while the day plays; after a jump, once it has settled.
const say = (counts) => {
  clearTimeout(saying);
  if (state.playing) return;
  saying = setTimeout(() => {
    const all = counts.map((of, nth) => {
      const many = KINDS.map((kind, doing) => of[doing] ? words(doing, of[doing]) : "").filter((text) => text).join(", ");
      return (counts.length > 1 ? "under " + data.panels[nth].rule + " " : "") + (many || "no truck on duty");
    });
    said.textContent = clock(state.at) + ": " + all.join("; ");
  }, 700);
};
const draw = () => {
  const counts = panels.map((panel) => panel.map.draw());
  const now = clock(state.at);
  if (face.textContent !== now) {
    face.textContent = now;
    slider.value = Math.floor(state.at / MINUTE);
    slider.setAttribute("aria-valuetext", now);
  }
  for (const panel of panels) {
    panel.happenings.draw();
    panel.strip.draw();
  }
  const day = Math.floor(state.at / DAY) + 1;
  byId("strip-heading").textContent = data.days > 1 ? "Every truck through day " + day : "Every truck through the day";
  say(counts);
};
const go = (at) => {
  state.at = Math.min(data.to, Math.max(data.from, at));
  draw();
};
let last = 0;
const tick = (now) => {
  if (!state.playing) return;
  const speed = Number(byId("speed").value) * MINUTE;
  const seconds = (now - last) / 1000;
  // Whoever wants little motion sees one step a second.
  if (!calm.matches || seconds >= 1) {
    last = now;
    go(state.at + speed * Math.min(seconds, 1));
    if (state.at >= data.to) pause();
  }
  requestAnimationFrame(tick);
};
const pause = () => {
  state.playing = false;
  play.textContent = "Play";
};
const start = () => {
  if (state.at >= data.to) state.at = data.from;
  state.playing = true;
  play.textContent = "Pause";
  last = performance.now();
  requestAnimationFrame(tick);
};
const toggle = () => { if (state.playing) { pause(); draw(); } else start(); };
play.addEventListener("click", toggle);
slider.addEventListener("input", () => { pause(); go(slider.value * MINUTE); });
follow.addEventListener("change", () => show(follow.value === "" ? -1 : Number(follow.value)));
const troubles = data.panels.flatMap((panel) => panel.trouble).sort((a, b) => a[0] - b[0]);
const trouble = (forward) => {
  const times = troubles.filter(([at]) => forward ? at > state.at : at < state.at);
  const next = forward ? times[0] : times[times.length - 1];
  if (!next) return;
  pause();
  if (next[1] !== null) show(next[1]);
  go(next[0]);
};
byId("earlier").addEventListener("click", () => trouble(false));
byId("later").addEventListener("click", () => trouble(true));
document.addEventListener("keydown", (press) => {
  if (press.ctrlKey || press.altKey || press.metaKey || press.defaultPrevented) return;
  const on = press.target, own = on.closest ? on.closest("button, select, a, .events") : null;
  if (press.key === " " && !own) {
    press.preventDefault();
    toggle();
    return;
  }
  if (own && on !== slider && !(own.tagName === "BUTTON" && !own.closest(".events"))) return;
  const here = Math.floor(state.at / MINUTE) * MINUTE;
  const to = {
    ArrowLeft: here - MINUTE, ArrowRight: here + MINUTE, PageUp: here - HOUR, PageDown: here + HOUR,
    Home: data.from, End: data.to,
  }[press.key];
  // Elsewhere on the page these keys scroll, as everywhere.
  if (to === undefined || (on !== slider && !byId("player").contains(on))) return;
  press.preventDefault();
  pause();
  go(to);
});
document.querySelectorAll("button.jump").forEach((button) => {
  button.addEventListener("click", () => {
    pause();
    if (truckNumbers.has(button.dataset.truck)) show(truckNumbers.get(button.dataset.truck));
    go(Number(button.dataset.at));
    byId("player").scrollIntoView({ behavior: calm.matches ? "auto" : "smooth", block: "start" });
    slider.focus({ preventScroll: true });
  });
});
const strips = document.querySelectorAll("#trucks .strip"), idle = document.querySelectorAll("#trucks .idle");
const panels = [...document.querySelectorAll("#player .panel")].map((box, nth) => {
  const panel = data.panels[nth], moves = { pause, go, show };
  return {
    map: makeMap(panel, box, show),
    happenings: makeHappenings(panel, box, moves),
    strip: makeStrip(panel, strips[nth], idle[nth], moves),
  };
});
const layOut = () => {
  for (const panel of panels) panel.map.layOut();
};
const again = () => {
  for (const panel of panels) panel.strip.again();
  layOut();
  drawTime();
  draw();
};
window.addEventListener("resize", again);

byId("player").hidden = false;
byId("trucks").hidden = false;
layOut();
drawTime();
show(state.shown);
// Names are as wide as their letters, which may still be on their way.
document.fonts.ready.then(again);
