// One rule's map in its box: places, ways and trucks at the moment, its counts, and where the followed truck is.
const FIRST = [OUT_OF_HOURS, BROKEN_DOWN, UNLOADING, WAITING_ON_SITE, WAITING_TO_LOAD, LOADING, FREE];
const COLUMNS = 6, ROWS = 3;
const makeMap = (panel, box, show) => {
  const following = box.querySelector(".following");
  const stranded = panel.trouble.filter(([, , kind]) => kind === "stranded").map(([at]) => at);
  // What has come about up to the moment.
  const tally = [
    [panel.placed, "load delivered", "loads delivered"], [panel.late, "late", "late"],
    [stranded, "driver stranded", "drivers stranded"],
  ].map(([times, one, many]) => {
    const part = box.querySelector(".tally").appendChild(element("span"));
    return { times, one, many, count: part.appendChild(element("b")), words: part.appendChild(element("span")), told: -1 };
  });
  const drawTally = () => {
    for (const part of tally) {
      const count = countUpTo(part.times, state.at);
      if (count === part.told) continue;
      part.told = count;
      part.count.textContent = count;
      part.words.textContent = " " + (count === 1 ? part.one : part.many);
    }
  };
  const legend = [...box.querySelector(".legend").children].map((item, doing) => {
    const picture = item.querySelector("svg");
    picture.setAttribute("class", KINDS[doing]);
    drawn("path", { class: "mark", d: SHAPES[doing], transform: "scale(0.85) rotate(" + TURNS[doing] + ")" }, picture);
    drawn("text", { y: 4.5 }, picture, LETTERS[doing]);
    return item.querySelector("b");
  });
  const sentence = (number) => {
    const now = stintOf(panel, number), name = data.trucks[number];
    if (!now) return name + ": off duty";
    const [, to, doing, place, heading, order, load] = now;
    const about = order >= 0 ? " (" + data.orders[order] + ", load " + load + ")" : "";
    const where = place === heading
      ? " at " + data.places[place].name + ", until " + clock(to)
      : " from " + data.places[place].name + " to " + data.places[heading].name + ", there at " + clock(to);
    return name + ": " + data.doings[doing] + where + about;
  };
  const map = box.querySelector(".map");
  const scale = () => Math.min(2, Math.max(1, 640 / (map.clientWidth || 640)));
  // A small map has larger letters, and is stretched from north to south to have room for them, if its distances mean nothing.
  const small = () => scale() > 1.2;
  const size = () => [data.size[0], data.size[1] * (small() && data.stretches ? Math.min(1.6, 1.1 * scale()) : 1)];
  const ways = new Set();
  for (const [, , , from, to] of data.panels.flatMap((one) => one.stints.flat())) {
    if (from !== to) ways.add(Math.min(from, to) + " " + Math.max(from, to));
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
    drawn("title", {}, group, data.trucks[number]);
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
      const named = doing === LOADED || doing === BACK || doing === OUT_OF_HOURS || doing === BROKEN_DOWN || number === state.shown;
      truck.label.textContent = named ? data.trucks[number] : "";
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
  // On a small map by the marks that the trucks have there.
  const short = (doing, count) => (doing === OUT_OF_HOURS ? "×" : LETTERS[doing]) + count;
  const told = (counts) => {
    const some = [OUT_OF_HOURS, BROKEN_DOWN, UNLOADING, LOADING, WAITING_TO_LOAD, WAITING_ON_SITE].filter((doing) => counts[doing] > 0);
    return small()
      ? some.map((doing) => short(doing, counts[doing])).join(" ")
      : some.map((doing) => words(doing, counts[doing])).join(", ");
  };
  const layOut = () => {
    const [width, height] = size(), shown = places.filter((place) => place);
    map.setAttribute("viewBox", "0 0 " + width + " " + height);
    map.classList.toggle("small", small());
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
  const draw = () => {
    const counts = KINDS.map(() => 0);
    const standing = places.map(() => []);
    data.trucks.forEach((_, number) => {
      const now = stintOf(panel, number);
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
    drawTally();
    following.textContent = state.shown >= 0 ? sentence(state.shown) : "";
    return counts;
  };
  return { layOut, draw };
};
