// What the printed functions call. NaN stands where there is no result, as an error value stands in a cell.
const isNumber = (x) => typeof x === "number" && Number.isFinite(x);
const div = (a, b) => (b === 0 ? NaN : a / b);
const ln = (x) => (x > 0 ? Math.log(x) : NaN);
const lg = (x) => (x > 0 ? Math.log10(x) : NaN);
const ld = (x) => (x > 0 ? Math.log2(x) : NaN);
const radians = (x) => x * (Math.PI / 180);
const degrees = (x) => x * (180 / Math.PI);
const pow = (a, b) => {
  const value = a ** b;
  return Number.isFinite(value) ? value : NaN;
};
const where = (condition, yes, no) => (condition ? yes : no);
const inOrder = (list) => [...list].sort((a, b) => a - b);

/** A cell as a number: NaN for a blank, a text or a truth value. */
const asNumber = (x) => (isNumber(x) ? x : NaN);

/** The result of a function of single numbers: a finite number or NaN. */
const single = (fn) => (...args) => {
  const value = fn(...args.map(asNumber));
  return isNumber(value) ? value : NaN;
};

/** A function of whole ranges: each range is one list; anything but numbers inside the bounds has no result. */
const whole = (fn, bounds) => (...args) => {
  if (args.length !== bounds.length) return NaN;
  const values = [];
  for (let place = 0; place < args.length; place += 1) {
    const [asList, low, high, lowOpen, highOpen] = bounds[place];
    const list = (Array.isArray(args[place]) ? args[place].flat() : [args[place]]).map(asNumber);
    const inside = list.every((x) => (lowOpen ? x > low : x >= low) && (highOpen ? x < high : x <= high));
    if (!inside || list.length === 0 || (!asList && list.length !== 1)) return NaN;
    values.push(asList ? list : list[0]);
  }
  const value = fn(...values);
  return isNumber(value) ? value : NaN;
};
