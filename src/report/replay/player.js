// Plays the day on the page: reads the data beside it, draws with elements and text only (names are never markup).
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const data = JSON.parse(byId("data").textContent);
  const MINUTE = 60, HOUR = 3600, DAY = 86400;
  const FREE = 0, WAITING_TO_LOAD = 1, LOADING = 2, LOADED = 3, WAITING_ON_SITE = 4, UNLOADING = 5, BACK = 6, OUT_OF_HOURS = 7;
  const KINDS = ["free", "waiting", "loading", "loaded", "waiting-on-site", "unloading", "back", "out-of-hours"];
  // Shape and letter say the same as the color. Those that drive point to the east and are turned.
  const SHAPES = [
    "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0Z", "M0 -11L11 0L0 11L-11 0Z", "M-9 -9H9V9H-9Z", "M12 0L-8 -9L-8 9Z",
    "M0 -11L11 0L0 11L-11 0Z", "M9 0A9 9 0 1 1 -9 0A9 9 0 1 1 9 0Z", "M12 0L-8 -8L-8 8Z",
    "M-4 -11H4V-4H11V4H4V11H-4V4H-11V-4H-4Z",
  ];
  const LETTERS = ["", "W", "L", "", "W", "U", "", ""];
  const TURNS = [0, 0, 0, 0, 0, 0, 0, 45];
  const FIRST = [OUT_OF_HOURS, UNLOADING, WAITING_ON_SITE, WAITING_TO_LOAD, LOADING, FREE];
  const COLUMNS = 6, ROWS = 3;

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
  // The position of the last entry that begins at or before `at`; -1 if there is none.
  const lastUpTo = (list, at) => {
    let low = 0, high = list.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (list[middle][0] <= at) low = middle + 1; else high = middle;
    }
    return low - 1;
  };

  const state = { at: data.open, playing: false, shown: data.shown === null ? -1 : data.shown, day: -1 };
  const truckNumbers = new Map(data.trucks.map((truck, number) => [truck.name, number]));
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");

  // ---- the map
  const map = byId("map");
  const scale = () => Math.min(2, Math.max(1, 640 / (map.clientWidth || 640)));
  // A small map is stretched from north to south, where a small page has room for names.
  const small = () => scale() > 1.2;
  const size = () => [data.size[0], data.size[1] * (small() ? 1.6 : 1)];
  const ways = new Set();
  for (const truck of data.trucks) {
    for (const [, , , from, to] of truck.stints) {
      if (from !== to) ways.add(Math.min(from, to) + " " + Math.max(from, to));
    }
  }
  const lines = [...ways].map((way) => way.split(" ").map(Number)).filter((ends) => ends.every((end) => data.places[end].at))
    .map((ends) => [ends, drawn("line", { class: "way" }, map)]);
  const places = data.places.map((place) => {
    if (!place.at) return null;
    const group = drawn("g", { class: place.plant ? "place plant" : "place" }, map);
    if (place.plant) drawn("rect", { class: "spot", x: -10, y: -10, width: 20, height: 20, rx: 3 }, group);
    else drawn("circle", { class: "spot", r: 8 }, group);
    drawn("title", {}, group, place.name);
    const name = drawn("text", { class: "name" }, group, place.name);
    const count = drawn("text", { class: "count" }, group, "");
    const more = drawn("text", { class: "count" }, group, "");
    return { group, name, count, more, at: place.at, full: place.name, middle: 0, base: 0, told: null };
  });
  const layer = drawn("g", {}, map);
  const marks = data.trucks.map(() => null);
  const mark = (number) => {
    if (marks[number]) return marks[number];
    const group = drawn("g", { class: "truck" }, layer);
    drawn("title", {}, group, data.trucks[number].name);
    drawn("circle", { class: "ring", r: 18 }, group);
    const shape = drawn("path", { class: "mark" }, group);
    const letter = drawn("text", { y: 4.5 }, group, "");
    const label = drawn("text", { class: "label", y: 25 }, group, "");
    group.addEventListener("click", () => show(number));
    marks[number] = { group, shape, letter, label, key: "" };
    return marks[number];
  };
  const put = (number, doing, x, y, angle) => {
    const truck = mark(number), size = scale();
    const key = doing + (number === state.shown ? "s" : "");
    if (truck.key !== key) {
      truck.key = key;
      truck.group.setAttribute("class", "truck " + KINDS[doing] + (number === state.shown ? " shown" : ""));
      truck.shape.setAttribute("d", SHAPES[doing]);
      truck.letter.textContent = LETTERS[doing];
      const named = doing === LOADED || doing === BACK || doing === OUT_OF_HOURS || number === state.shown;
      truck.label.textContent = named ? data.trucks[number].name : "";
    }
    truck.shape.setAttribute("transform", "rotate(" + (angle + TURNS[doing]).toFixed(0) + ")");
    truck.group.setAttribute("transform", "translate(" + x.toFixed(1) + " " + y.toFixed(1) + ") scale(" + size.toFixed(2) + ")");
  };
  const hide = (number) => {
    const truck = marks[number];
    if (truck && truck.key !== "hidden") {
      truck.key = "hidden";
      truck.group.setAttribute("class", "truck");
      truck.group.setAttribute("transform", "translate(-999 -999)");
    }
  };
  const stint = (number) => {
    const stints = data.trucks[number].stints;
    const last = lastUpTo(stints, state.at);
    return last >= 0 && state.at < stints[last][1] ? stints[last] : null;
  };
  const words = (doing, count) => count + " " + data.doings[doing];
  // On a small map by the marks that the trucks have there.
  const short = (doing, count) => (doing === OUT_OF_HOURS ? "×" : LETTERS[doing]) + count;
  const told = (counts) => {
    const some = [OUT_OF_HOURS, UNLOADING, LOADING, WAITING_TO_LOAD, WAITING_ON_SITE].filter((doing) => counts[doing] > 0);
    return small()
      ? some.map((doing) => short(doing, counts[doing])).join(" ")
      : some.map((doing) => words(doing, counts[doing])).join(", ");
  };
  const layOut = () => {
    const [width, height] = size(), shown = places.filter((place) => place);
    map.setAttribute("viewBox", "0 0 " + width + " " + height);
    places.forEach((place, number) => {
      if (!place) return;
      const [x, y] = data.places[number].at;
      place.at = [x, y * height / data.size[1]];
      place.told = null;
      place.group.setAttribute("transform", "translate(" + place.at + ")");
    });
    for (const [[from, to], line] of lines) {
      const [a, b] = [places[from].at, places[to].at];
      for (const [name, value] of Object.entries({ x1: a[0], y1: a[1], x2: b[0], y2: b[1] })) line.setAttribute(name, value);
    }
    layOutNames(shown, [width, height], scale(), told([0, 0, 0, 0, 0, 1, 0, 0]));
  };
  // A text is kept within the map, sideways.
  const tell = (place, text) => {
    if (place.told === text) return;
    place.told = text;
    place.count.textContent = text;
    const half = place.count.getComputedTextLength() / 2 + 4;
    const middle = Math.max(half, Math.min(size()[0] - half, place.middle));
    place.count.setAttribute("x", (middle - place.at[0]).toFixed(1));
  };
  const drawMap = () => {
    const counts = KINDS.map(() => 0);
    const standing = places.map(() => []);
    data.trucks.forEach((_, number) => {
      const now = stint(number);
      if (!now) return hide(number);
      const [from, to, doing, place, heading] = now;
      counts[doing] += 1;
      const a = places[place], b = places[heading];
      if (place !== heading && a && b) {
        const part = (state.at - from) / (to - from);
        const dx = b.at[0] - a.at[0], dy = b.at[1] - a.at[1], far = Math.hypot(dx, dy) || 1;
        // Out and back keep to the right of each other, clear of the places themselves.
        const along = 16 / far + part * (1 - 32 / far);
        put(number, doing, a.at[0] + along * dx - dy / far * 9, a.at[1] + along * dy + dx / far * 9, Math.atan2(dy, dx) * 180 / Math.PI);
      } else if (places[heading]) {
        standing[heading].push([doing, number]);
      } else {
        hide(number);
      }
    });
    standing.forEach((trucks, place) => {
      if (!places[place]) return;
      trucks.sort((a, b) => FIRST.indexOf(a[0]) - FIRST.indexOf(b[0]) || a[1] - b[1]);
      const size = scale(), room = COLUMNS * ROWS;
      const half = ((Math.min(COLUMNS, trucks.length) - 1) / 2 * 25 + 13) * size;
      const middle = Math.max(half, Math.min(data.size[0] - half, places[place].at[0]));
      trucks.forEach(([doing, number], nth) => {
        if (nth >= room && number !== state.shown) return hide(number);
        const row = Math.min(Math.floor(nth / COLUMNS), ROWS), inRow = Math.min(COLUMNS, trucks.length - row * COLUMNS);
        const column = nth % COLUMNS;
        put(number, doing, middle + (column - (inRow - 1) / 2) * 25 * size, places[place].at[1] + (27 + row * 24) * size, 0);
      });
      const counted = KINDS.map((_, doing) => trucks.filter((truck) => truck[0] === doing).length);
      tell(places[place], told(counted));
      places[place].more.textContent = trucks.length > room ? "+" + (trucks.length - room) + " more" : "";
      places[place].more.setAttribute("y", String((27 + ROWS * 24) * size));
    });
    legend.forEach((count, doing) => { if (count.textContent !== String(counts[doing])) count.textContent = counts[doing]; });
    return counts;
  };

  // ---- legend, and the truck that is followed
  const legend = [...byId("legend").children].map((item, doing) => {
    const picture = item.querySelector("svg");
    picture.setAttribute("class", KINDS[doing]);
    drawn("path", { class: "mark", d: SHAPES[doing], transform: "scale(0.85) rotate(" + TURNS[doing] + ")" }, picture);
    drawn("text", { y: 4.5 }, picture, LETTERS[doing]);
    return item.querySelector("b");
  });
  const follow = byId("follow");
  data.trucks.forEach((truck, number) => {
    const option = element("option", "", truck.name);
    option.value = number;
    follow.append(option);
  });
  const sentence = (number) => {
    const now = stint(number), name = data.trucks[number].name;
    if (!now) return name + ": off duty";
    const [, to, doing, place, heading, order, load] = now;
    const about = order >= 0 ? " (" + data.orders[order] + ", load " + load + ")" : "";
    const where = place === heading
      ? " at " + data.places[place].name + ", until " + clock(to)
      : " from " + data.places[place].name + " to " + data.places[heading].name + ", there at " + clock(to);
    return name + ": " + data.doings[doing] + where + about;
  };
  const show = (number) => {
    state.shown = number;
    follow.value = number >= 0 ? number : "";
    byId("strip").querySelectorAll(".row").forEach((row) => row.classList.toggle("shown", row.dataset.truck === String(number)));
    draw();
  };

  // ---- the list of what happens
  const list = byId("events");
  const WINDOW = 150;
  let low = 0, high = 0, current = -2;
  const late = new Set(data.trouble.map(([at, truck]) => at + " " + truck));
  const bad = /(stranded|rejected|not delivered|past the limit|does not come|is down|stands still|dumps|cannot take)/;
  const fill = (middle) => {
    low = Math.max(0, middle - WINDOW);
    high = Math.min(data.events.length, middle + WINDOW);
    list.replaceChildren(...data.events.slice(low, high).map(([at, what, truck], nth) => {
      const item = element("li"), button = element("button");
      button.type = "button";
      button.tabIndex = -1;
      button.append(element("time", "", clock(at)), element("span", "", what));
      if (bad.test(what) || (/ late$/.test(what) && late.has(at + " " + truck))) button.classList.add("bad");
      button.addEventListener("click", () => {
        pause();
        if (truck !== null) show(truck);
        go(at);
        focusOn(low + nth);
      });
      item.append(button);
      return item;
    }));
  };
  const focusOn = (position) => {
    if (position < 0 || position >= data.events.length) return;
    if (position < low || position >= high) { fill(position); current = -2; drawEvents(); }
    list.children[position - low].firstChild.focus({ preventScroll: true });
    scrollTo(list.children[position - low]);
  };
  const scrollTo = (item) => {
    list.scrollTop = item.offsetTop - list.clientHeight / 2 + item.offsetHeight / 2;
  };
  const drawEvents = () => {
    const now = lastUpTo(data.events, state.at);
    if (now === current) return;
    const inside = list.contains(document.activeElement);
    if (high === 0 || (now < low + 20 && low > 0) || (now > high - 20 && high < data.events.length)) fill(Math.max(now, 0));
    current = now;
    [...list.children].forEach((item, nth) => {
      const button = item.firstChild, position = low + nth, here = position === Math.max(now, 0);
      if (position === now) button.setAttribute("aria-current", "time"); else button.removeAttribute("aria-current");
      button.classList.toggle("future", position > now);
      button.tabIndex = here ? 0 : -1;
    });
    const item = list.children[Math.max(now, 0) - low];
    if (!item) return;
    if (inside && !list.contains(document.activeElement)) item.firstChild.focus({ preventScroll: true });
    if (!inside || state.playing) scrollTo(item);
  };
  list.addEventListener("keydown", (press) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[press.key];
    const item = document.activeElement.closest("#events li");
    if (!step || !item) return;
    press.preventDefault();
    press.stopPropagation();
    focusOn(low + [...list.children].indexOf(item) + step);
  });

  // ---- every truck through the day
  const strip = byId("strip"), ROWS_SHOWN = 120;
  const span = () => data.days > 1 ? [state.day * DAY, (state.day + 1) * DAY] : [data.from, data.to];
  const axisHours = (from, to, room) => {
    const steps = to - from > 3 * DAY ? [24] : [1, 2, 3, 4, 6, 12, 24];
    const step = steps.find((step) => (to - from) / HOUR / step <= room) || 24 * Math.ceil((to - from) / DAY / room);
    const hours = [];
    for (let at = Math.ceil(from / HOUR / step) * HOUR * step; at <= to; at += step * HOUR) hours.push(at);
    return hours;
  };
  let cursor = null;
  const drawStrip = () => {
    const day = Math.floor(state.at / DAY);
    if (cursor && (data.days === 1 || day === state.day)) return;
    state.day = day;
    const [from, to] = span(), percent = (at) => 100 * (at - from) / (to - from) + "%";
    const used = data.trucks.map((truck, number) => [truck, number]).filter(([truck]) => truck.stints.some((s) => s[0] < to && s[1] > from));
    const idle = data.fleet - used.length;
    byId("strip-heading").textContent = data.days > 1 ? "Every truck through day " + (day + 1) : "Every truck through the day";
    byId("strip-note").textContent = "Colors as above; a bar marks a late load, a cross a stranded driver. A click on a row goes to that moment."
      + (used.length > ROWS_SHOWN ? " The first " + ROWS_SHOWN + " of " + used.length + " trucks." : "")
      + (idle > 0 ? " " + idle + " more truck" + (idle === 1 ? "" : "s") + " had no driver all day." : "");
    const axis = element("div", "row axis"), scaleBox = element("div");
    axisHours(from, to, strip.clientWidth < 500 ? 6 : 14).forEach((at) => {
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
      for (const [begins, ends, doing] of truck.stints) {
        const left = Math.max(begins, from), right = Math.min(ends, to);
        if (left >= right) continue;
        const thin = doing === FREE ? 3 : 0;
        drawn("rect", {
          class: "fill" + doing, x: (1000 * (left - from) / (to - from)).toFixed(2), y: thin,
          width: (1000 * (right - left) / (to - from)).toFixed(2), height: 10 - 2 * thin,
        }, picture);
      }
      for (const [at, of, kind] of data.trouble) {
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
      row.append(element("span", "", truck.name), bar);
      return row;
    });
    const over = element("div", "over");
    cursor = element("div", "cursor");
    over.append(cursor);
    strip.replaceChildren(axis, ...rows, over);
  };
  const drawCursor = () => {
    const [from, to] = span();
    cursor.style.left = 100 * (state.at - from) / (to - from) + "%";
  };

  // ---- time
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
  byId("marks").replaceChildren(...data.trouble.map(([at, , kind]) => {
    const tick = element("span", kind, kind === "stranded" ? "×" : "");
    tick.style.left = fraction(at);
    return tick;
  }));
  let saying = 0;
  // Nothing is said while the day plays; after a jump, once it has settled.
  const say = (counts) => {
    clearTimeout(saying);
    if (state.playing) return;
    saying = setTimeout(() => {
      const many = KINDS.map((kind, doing) => counts[doing] ? words(doing, counts[doing]) : "").filter((text) => text).join(", ");
      said.textContent = clock(state.at) + ": " + (many || "no truck on duty");
    }, 700);
  };
  const draw = () => {
    const counts = drawMap();
    const now = clock(state.at);
    if (face.textContent !== now) {
      face.textContent = now;
      slider.value = Math.floor(state.at / MINUTE);
      slider.setAttribute("aria-valuetext", now);
    }
    byId("following").textContent = state.shown >= 0 ? sentence(state.shown) : "";
    drawEvents();
    drawStrip();
    drawCursor();
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
  const trouble = (forward) => {
    const times = data.trouble.filter(([at]) => forward ? at > state.at : at < state.at);
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
    const on = press.target, own = on.closest ? on.closest("button, select, a, #events") : null;
    if (press.key === " " && !own) {
      press.preventDefault();
      toggle();
      return;
    }
    if (own && on !== slider && !(own.tagName === "BUTTON" && !own.closest("#events"))) return;
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
  const again = () => { cursor = null; layOut(); drawTime(); draw(); };
  window.addEventListener("resize", again);

  byId("player").hidden = false;
  byId("trucks").hidden = false;
  layOut();
  drawTime();
  show(state.shown);
  // Names are as wide as their letters, which may still be on their way.
  document.fonts.ready.then(again);
})();
