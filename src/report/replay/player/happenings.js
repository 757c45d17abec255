// One rule's list of what happens, with the moment marked; so many entries before and after it are in the page.
const WINDOW = 150;
const makeHappenings = (panel, box, { pause, go, show }) => {
  const list = box.querySelector(".events");
  let low = 0, high = 0, current = -2;
  const late = new Set(panel.trouble.map(([at, truck]) => at + " " + truck));
  const bad = /(stranded|rejected|not delivered|past the limit|does not come|breaks down|given up|is down|stands still|dumps|cannot take)/;
  const fill = (middle) => {
    low = Math.max(0, middle - WINDOW);
    high = Math.min(panel.events.length, middle + WINDOW);
    list.replaceChildren(...panel.events.slice(low, high).map(([at, what, truck], nth) => {
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
    if (position < 0 || position >= panel.events.length) return;
    if (position < low || position >= high) { fill(position); current = -2; draw(); }
    list.children[position - low].firstChild.focus({ preventScroll: true });
    scrollTo(list.children[position - low]);
  };
  const scrollTo = (item) => {
    list.scrollTop = item.offsetTop - list.clientHeight / 2 + item.offsetHeight / 2;
  };
  const draw = () => {
    const now = lastUpTo(panel.events, state.at);
    if (now === current) return;
    const inside = list.contains(document.activeElement);
    if (high === 0 || (now < low + 20 && low > 0) || (now > high - 20 && high < panel.events.length)) fill(Math.max(now, 0));
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
    const item = document.activeElement.closest(".events li");
    if (!step || !item) return;
    press.preventDefault();
    press.stopPropagation();
    focusOn(low + [...list.children].indexOf(item) + step);
  });
  return { draw };
};
