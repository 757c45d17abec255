// Puts the names of the places on the map: within it, apart from each other, clear of the places and of the trucks there.
// `places`: at, full (the whole name), name and count (texts, the count below the name). `sample`: a count as long as most are.
// Sets `middle` and `base` of each: where the middle and the base line of its count belong.
const layOutNames = (places, [width, height], size, sample) => {
  const MOST = 0.38 * width, GAP = 7, CLEAR = 16;
  // How far the first row of trucks at a place reaches below it.
  const deep = 40 * size;
  const pixels = (text) => parseFloat(getComputedStyle(text).fontSize);
  const common = (a, b) => Math.max(0, Math.min(a.right, b.right) - Math.max(a.left, b.left))
    * Math.max(0, Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top));
  const around = (x, y, aside, above, below) => ({ left: x - aside, right: x + aside, top: y - above, bottom: y + below });
  const within = (value, low, high) => Math.max(low, Math.min(high, value));
  // A name is cut, at least to one letter, if it would take too much of the map; the whole one is the title of the place.
  const write = (text, full) => {
    const letters = [...full];
    text.textContent = full;
    while (letters.length > 1 && text.getComputedTextLength() > MOST) {
      letters.pop();
      text.textContent = letters.join("").trimEnd() + "…";
    }
  };
  const blocks = places.map((place) => {
    const [x, y] = place.at;
    write(place.name, place.full);
    place.count.textContent = sample;
    const big = pixels(place.name), small = pixels(place.count);
    const half = Math.max(place.name.getComputedTextLength(), place.count.getComputedTextLength()) / 2 + GAP;
    const above = big + 1.15 * small, below = 0.3 * small;
    const box = (middle, base) => around(middle, base, half, above, below);
    const choices = [];
    const offer = (middle, base) => {
      middle = within(middle, half, width - half);
      base = within(base, above, height - below);
      // Under a name one looks for the nearest place.
      const off = (other) => Math.hypot(middle - other.at[0], base - 0.5 * above - other.at[1]);
      const nearer = places.filter((other) => other !== place && off(other) < off(place)).length;
      choices.push({ middle, base, box: box(middle, base), bad: 3 * Math.hypot(middle - x, base - (y - CLEAR)) + 3000 * nearer });
    };
    for (const higher of [0, 0.5, 1]) {
      for (const aside of [0, -0.35, 0.35, -0.7, 0.7, -1, 1]) offer(x + aside * half, y - CLEAR - higher * above);
    }
    for (const aside of [-1, 1]) offer(x + aside * (CLEAR + half), y + above / 2 - below);
    for (const aside of [0, -0.5, 0.5]) offer(x + aside * half, y + deep + 2 + above);
    return { place, small, choices, chosen: null };
  });
  const taken = places.flatMap(({ at: [x, y] }) => [
    [around(x, y, 11, 11, 11), 4],
    [around(x, y, 38 * size, -12, deep), 3],
  ]);
  for (const { choices } of blocks) {
    for (const choice of choices) for (const [box, weight] of taken) choice.bad += weight * common(choice.box, box);
  }
  const cost = (block, choice) => {
    let sum = choice.bad;
    for (const other of blocks) if (other !== block && other.chosen) sum += 6 * common(choice.box, other.chosen.box);
    return sum;
  };
  // One after the other takes its best place beside those before it, then looks again until all stay where they are.
  const settle = (order) => {
    for (const block of blocks) block.chosen = null;
    for (let round = 0, moved = true; moved && round < 12; round += 1) {
      moved = false;
      for (const block of order) {
        let best = block.chosen, least = best ? cost(block, best) - 1e-6 : Infinity;
        for (const choice of block.choices) {
          const here = cost(block, choice);
          if (here < least) [best, least] = [choice, here];
        }
        if (best !== block.chosen) [block.chosen, moved] = [best, true];
      }
    }
    return blocks.reduce((sum, block) => sum + block.chosen.bad + cost(block, block.chosen), 0);
  };
  // Where the first come matters: the best of several orders.
  const by = (key) => [...blocks].sort((a, b) => key(a) - key(b));
  const orders = [(p) => p[0], (p) => -p[0], (p) => p[1], (p) => -p[1], (p) => p[0] + p[1], (p) => p[0] - p[1]]
    .map((key) => by((block) => key(block.place.at)));
  const sums = orders.map(settle);
  settle(orders[sums.indexOf(Math.min(...sums))]);
  for (const { place, small, chosen } of blocks) {
    place.middle = chosen.middle;
    place.base = chosen.base;
    const [x, y] = place.at;
    place.name.setAttribute("x", (chosen.middle - x).toFixed(1));
    place.name.setAttribute("y", (chosen.base - y - 1.15 * small).toFixed(1));
    place.count.setAttribute("y", (chosen.base - y).toFixed(1));
  }
};
