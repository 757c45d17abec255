// Runs inside a copy of replay.html: handles it as a reader would and writes what it saw into the page.
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const seen = {};
  const check = (name, holds) => { seen[name] = Boolean(holds); };
  const slider = byId("time");
  // One map, or two under two rules.
  const maps = [...document.querySelectorAll(".map")], two = maps.length === 2;
  const where = (map) => [...map.querySelectorAll(".truck")].map((truck) => truck.getAttribute("transform")).join();
  const press = (on, key) => on.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));

  const before = maps.map(where);
  slider.value = Number(slider.value) + 7;
  slider.dispatchEvent(new Event("input", { bubbles: true }));
  check("the slider moves trucks on every map", maps.every((map, nth) => where(map) !== before[nth]));

  slider.focus();
  check("the slider takes the focus", document.activeElement === slider);
  const at = Number(slider.value);
  press(slider, "ArrowRight");
  check("right goes on a minute", Number(slider.value) === at + 1);
  press(slider, "PageDown");
  check("page down goes on an hour", Number(slider.value) === at + 61);
  press(slider, "Home");
  check("home goes to the start", slider.value === slider.min);
  press(slider, "End");
  check("end goes to the end", slider.value === slider.max);
  press(slider, " ");
  check("space plays", byId("play").textContent === "Pause");
  press(slider, " ");
  check("space pauses", byId("play").textContent === "Play");

  const jump = document.querySelector("button.jump");
  jump.click();
  check("a late load jumps to its time", Number(slider.value) === Math.floor(jump.dataset.at / 60));
  const current = document.querySelector(".events [aria-current]");
  check("the list follows", current !== null && current.tabIndex === 0);
  current.focus();
  press(current, "ArrowDown");
  check("down goes to the next event", document.activeElement !== current && current.closest(".events").contains(document.activeElement));
  check("the clock is announced politely", byId("said").getAttribute("aria-live") === "polite");
  check("names are text", document.title.startsWith("Replay") && !document.querySelector("main img, main script, .map b"));
  check("hostile names are shown", maps.every((map) => map.textContent.includes("<img src=x onerror=alert(1)>")));
  // Names on the map, as they are drawn: within it, and none over another.
  const drawn = (map, what) => [...map.querySelectorAll(".place " + what)].filter((text) => text.textContent)
    .map((text) => text.getBoundingClientRect());
  const over = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
  const named = maps.map((map) => drawn(map, ".name"));
  check("there are names on the map", named.every((boxes) => boxes.length > 3 && boxes.every((box) => box.width > 0)));
  check("names can be read", maps.every((map) => [...map.querySelectorAll(".place .name")].every((name) =>
    parseFloat(getComputedStyle(name).fontSize) * map.clientWidth / map.viewBox.baseVal.width > 9)));
  check("names and counts are within the map", maps.every((map, nth) => {
    const around = map.getBoundingClientRect();
    return [...named[nth], ...drawn(map, ".count")].every((box) => box.left >= around.left - 1
      && box.right <= around.right + 1 && box.top >= around.top - 1 && box.bottom <= around.bottom + 1);
  }));
  check("no name covers another", named.every((boxes) => boxes.every((a, nth) => boxes.slice(nth + 1).every((b) => !over(a, b)))));
  const page = document.documentElement;
  const tallies = [...document.querySelectorAll(".tally")].map((tally) => tally.textContent);
  check("what has been delivered is counted", tallies.length === maps.length && tallies.every((text) => /^\d+ loads? delivered/.test(text)));
  if (two) {
    const [first, second] = maps.map((map) => map.getBoundingClientRect());
    const beside = page.clientWidth > 820;
    check("two maps are as large as each other", Math.abs(first.width - second.width) < 1 && Math.abs(first.height - second.height) < 1);
    check(beside ? "they stand beside each other" : "they stand below each other", beside
      ? Math.abs(first.top - second.top) < 1 && first.right < second.left && first.width > 0.4 * page.clientWidth
      : first.bottom < second.top && first.width > 0.85 * page.clientWidth);
    check("each has its rule over it", [...document.querySelectorAll(".panel > h2")].every((title) => title.textContent.startsWith("Under ")));
    const delivered = () => [...document.querySelectorAll(".tally > :first-child b")].map((count) => Number(count.textContent));
    press(slider, "End");
    const ended = maps.map(where), all = delivered();
    slider.value = Number(byId("time").min) + 8 * 60;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    const morning = delivered();
    check("one slider moves both", maps.every((map, nth) => where(map) !== ended[nth]));
    const marked = [...document.querySelectorAll(".events [aria-current] time")].map((time) => time.textContent.slice(-5));
    check("both lists are at the same moment", marked.length === 2 && marked.every((time) => time <= byId("clock").textContent.slice(-5)));
    check("both count what has come by then", morning.length === 2 && morning.every((count, nth) => count > 0 && count < all[nth]));
  }
  check("no scrolling sideways at " + page.clientWidth, page.scrollWidth <= page.clientWidth);

  const result = document.createElement("pre");
  result.id = "probe";
  result.textContent = Object.entries(seen).map(([name, holds]) => (holds ? "seen: " : "FAILED: ") + name).join("\n");
  document.body.append(result);
  if (window.parent !== window) window.parent.postMessage(result.textContent, "*");
})();
