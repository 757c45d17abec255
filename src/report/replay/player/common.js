// What all parts of the player share: the data of the page, the vocabulary of marks, elements and text (names are never markup).
const byId = (id) => document.getElementById(id);
// What the rules share; `panels` holds what each of them makes of the day.
const data = JSON.parse(byId("data").textContent);
const MINUTE = 60, HOUR = 3600, DAY = 86400;
const FREE = 0, WAITING_TO_LOAD = 1, LOADING = 2, LOADED = 3, WAITING_ON_SITE = 4, UNLOADING = 5, BACK = 6, OUT_OF_HOURS = 7, BROKEN_DOWN = 8;
const KINDS = ["free", "waiting", "loading", "loaded", "waiting-on-site", "unloading", "back", "out-of-hours", "broken-down"].slice(0, data.doings.length);
// Shape and letter say the same as the color. Those that drive point to the east and are turned.
const SHAPES = [
  "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0Z", "M0 -11L11 0L0 11L-11 0Z", "M-9 -9H9V9H-9Z", "M12 0L-8 -9L-8 9Z",
  "M0 -11L11 0L0 11L-11 0Z", "M9 0A9 9 0 1 1 -9 0A9 9 0 1 1 9 0Z", "M12 0L-8 -8L-8 8Z",
  "M-4 -11H4V-4H11V4H4V11H-4V4H-11V-4H-4Z", "M0 -11L11 9H-11Z",
];
const LETTERS = ["", "W", "L", "", "W", "U", "", "", "B"];
const TURNS = [0, 0, 0, 0, 0, 0, 0, 45, 0];

const element = (name, classes, text) => {
  const made = document.createElement(name);
  if (classes) made.className = classes;
  if (text !== undefined) made.textContent = text;
  return made;
};
const drawn = (name, attributes, parent, text) => {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  if (parent) parent.append(made);
  return made;
};
const two = (number) => String(number).padStart(2, "0");
const hourAndMinute = (at) => two(Math.floor(at / HOUR) % 24) + ":" + two(Math.floor(at / MINUTE) % 60);
const clock = (at) => {
  const day = Math.floor(at / DAY);
  if (data.days > 1) return "day " + (day + 1) + ", " + hourAndMinute(at);
  return day === 1 ? hourAndMinute(at) + " next day" : day === 0 ? hourAndMinute(at) : "day " + (day + 1) + ", " + hourAndMinute(at);
};
// How many entries of a sorted list are at or before `at`.
const countUpTo = (list, at, time = (entry) => entry) => {
  let low = 0, high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (time(list[middle]) <= at) low = middle + 1; else high = middle;
  }
  return low;
};
// The position of the last entry that begins at or before `at`; -1 if there is none.
const lastUpTo = (list, at) => countUpTo(list, at, (entry) => entry[0]) - 1;
const words = (doing, count) => count + " " + data.doings[doing];
const axisHours = (from, to, room) => {
  const steps = to - from > 3 * DAY ? [24] : [1, 2, 3, 4, 6, 12, 24];
  const step = steps.find((step) => (to - from) / HOUR / step <= room) || 24 * Math.ceil((to - from) / DAY / room);
  const hours = [];
  for (let at = Math.ceil(from / HOUR / step) * HOUR * step; at <= to; at += step * HOUR) hours.push(at);
  return hours;
};

// The one clock: the moment that everything shows, whether it goes on, and the truck that is followed (-1: none).
const state = { at: data.open, playing: false, shown: data.shown === null ? -1 : data.shown };
const stintOf = (panel, number) => {
  const stints = panel.stints[number];
  const last = lastUpTo(stints, state.at);
  return last >= 0 && state.at < stints[last][1] ? stints[last] : null;
};
