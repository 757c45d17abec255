// Runs inside a copy of replay.html: handles it as a reader would and writes what it saw into the page.
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const seen = {};
  const check = (name, holds) => { seen[name] = Boolean(holds); };
  const slider = byId("time");
  const where = () => [...document.querySelectorAll("#map .truck")].map((truck) => truck.getAttribute("transform")).join();
  const press = (on, key) => on.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));

  const before = where();
  slider.value = Number(slider.value) + 7;
  slider.dispatchEvent(new Event("input", { bubbles: true }));
  check("the slider moves trucks", where() !== before);

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
  const current = document.querySelector("#events [aria-current]");
  check("the list follows", current !== null && current.tabIndex === 0);
  current.focus();
  press(current, "ArrowDown");
  check("down goes to the next event", document.activeElement !== current && byId("events").contains(document.activeElement));
  check("the clock is announced politely", byId("said").getAttribute("aria-live") === "polite");
  check("names are text", document.title.startsWith("Replay") && !document.querySelector("main img, main script, #map b"));
  check("hostile names are shown", document.querySelector("#map").textContent.includes("<img src=x onerror=alert(1)>"));
  // Names on the map, as they are drawn: within it, and none over another.
  const boxes = [...document.querySelectorAll("#map .place .name")].map((name) => name.getBoundingClientRect());
  const around = byId("map").getBoundingClientRect();
  const over = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
  check("there are names on the map", boxes.length > 3 && boxes.every((box) => box.width > 0));
  const counts = [...document.querySelectorAll("#map .place .count")].filter((count) => count.textContent)
    .map((count) => count.getBoundingClientRect());
  check("names and counts are within the map", [...boxes, ...counts].every((box) => box.left >= around.left - 1
    && box.right <= around.right + 1 && box.top >= around.top - 1 && box.bottom <= around.bottom + 1));
  check("no name covers another", boxes.every((a, nth) => boxes.slice(nth + 1).every((b) => !over(a, b))));
  const page = document.documentElement;
  check("no scrolling sideways at " + page.clientWidth, page.scrollWidth <= page.clientWidth);

  const result = document.createElement("pre");
  result.id = "probe";
  result.textContent = Object.entries(seen).map(([name, holds]) => (holds ? "seen: " : "FAILED: ") + name).join("\n");
  document.body.append(result);
  if (window.parent !== window) window.parent.postMessage(result.textContent, "*");
})();
