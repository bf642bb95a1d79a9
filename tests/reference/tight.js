/**
 * The steady state of a network of power laws to thirty digits, for judging the accuracy of others:
 * Newton's method in whole numbers of 10⁻⁶⁰, with nothing of the library in it.
 * @module
 */
const one = 10n ** 60n;

/** A number of double precision, exactly, but for what lies below 10⁻⁶⁰. */
function exact(value) {
  const [digits, power] = value.toExponential(20).split("e");
  const shift = Number(power) + 60 - 20;
  const whole = BigInt(digits.replace(".", ""));
  return shift >= 0 ? whole * 10n ** BigInt(shift) : whole / 10n ** BigInt(-shift);
}
const times = (a, b) => (a * b) / one;
const toThe = (a, p) => Array.from({ length: p }, () => a).reduce(times, one);

/** Temperatures [K] of the nodes of a description whose links each have one power law. */
export function tightTemperatures({ nodes, links }, start) {
  const free = nodes.flatMap(({ temperature }, i) => (temperature === undefined ? [i] : []));
  const index = new Map(nodes.map(({ name }, i) => [name, i]));
  const T = nodes.map(({ temperature }, i) => exact(temperature ?? start[i]));
  const laws = links.map(({ from, to, count = 1, conductor: { powers } }) => ({
    a: index.get(from),
    b: index.get(to),
    c: exact(count * powers[0].coefficient),
    p: powers[0].exponent,
  }));
  for (let step = 0; step < 6; step++) {
    const left = nodes.map(({ load = 0 }) => exact(load));
    const matrix = free.map(() => free.map(() => 0n));
    const add = (row, column, value) => {
      const [i, j] = [free.indexOf(row), free.indexOf(column)];
      if (i >= 0 && j >= 0) matrix[i][j] += value;
    };
    for (const { a, b, c, p } of laws) {
      const flow = times(c, toThe(T[a], p) - toThe(T[b], p));
      left[a] -= flow;
      left[b] += flow;
      const slope = (T) => BigInt(p) * times(c, toThe(T, p - 1));
      add(a, a, slope(T[a]));
      add(b, a, -slope(T[a]));
      add(b, b, slope(T[b]));
      add(a, b, -slope(T[b]));
    }
    const change = solved(
      matrix,
      free.map((node) => left[node]),
    );
    free.forEach((node, i) => {
      T[node] += change[i];
    });
  }
  return T.map((value) => Number(value) / Number(one));
}

/** Gauss's elimination; the diagonal of such a matrix is never 0. */
function solved(matrix, right) {
  const n = right.length;
  for (let k = 0; k < n; k++) {
    for (let i = k + 1; i < n; i++) {
      const factor = (matrix[i][k] * one) / matrix[k][k];
      for (let j = k; j < n; j++) matrix[i][j] -= times(factor, matrix[k][j]);
      right[i] -= times(factor, right[k]);
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    for (let j = k + 1; j < n; j++) right[k] -= times(matrix[k][j], right[j]);
    right[k] = (right[k] * one) / matrix[k][k];
  }
  return right;
}
