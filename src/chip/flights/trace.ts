/**
 * The flight of phonons from wall to wall until they meet a zone where contacts may be: the one hot loop
 * of this folder.
 *
 * Everything a flight needs is in local numbers and few typed arrays, and in the innermost loop nothing is
 * allocated or called: after a call V8 checks the kind of each array again. Directions
 * are drawn without sines and cosines: a point of the unit disc lifted onto the sphere above it follows
 * Lambert's law (T. J. V. Malley, 1988), and one of the disc mapped by G. Marsaglia, Ann. Math. Stat. 43,
 * 645 (1972), fills the sphere evenly. Random numbers: sfc32 of C. Doty-Humphrey's PractRand, written out
 * at each draw, since a call would keep its state in memory. Each phonon has its own, so that it flies the
 * same way whatever flies beside it.
 * @module
 */
import type { FlightSpace } from "./flight-space.js";
import type { Legs, Marks, Rays } from "./rays.js";

/** Spare length of the array of marks before a phonon flies, beyond the marks of one flight. */
const spareMarks = 2 ** 12;

function doubled(cells: Uint16Array | Uint32Array): Uint16Array | Uint32Array {
  const more = new (cells.constructor as Uint32ArrayConstructor)(2 * cells.length);
  more.set(cells);
  return more;
}

/**
 * Flies each of some phonons until it meets a zone, where it is reflected as by the face beside it and stays.
 * A flight of a phonon is the same to the last bit, however many fly with it and wherever marks are full.
 * @param which - their numbers
 * @param count - how many of those
 * @param mostFlights - bound on the flights of each
 * @returns how many flights there were
 */
export function trace(
  { numbers, reals, ends, mostMarks }: FlightSpace,
  { states, free: frees, toMark: toMarks, streams }: Rays,
  which: Int32Array,
  count: number,
  { zones, across: acrossAt, along: alongAt, lengths, flights: flown, marks: marksTo }: Legs,
  marks: Marks,
  mostFlights: number,
): number {
  const width = reals[12]!;
  const length = reals[13]!;
  const thickness = reals[14]!;
  const perX = reals[15]!;
  const perY = reals[16]!;
  const spacing = reals[17]!;
  const bulkLength = reals[18]!;
  const cellsX = numbers[24]! | 0;
  const isClear = bulkLength === Number.POSITIVE_INFINITY;
  const unit = 2 ** -31;
  let marked = marks.cells;
  let mark = marks.count | 0;
  let total = 0;
  for (let k = 0; k < count; k++) {
    const ray = which[k]!;
    const own = 4 * ray;
    let s0 = streams[own]! | 0;
    let s1 = streams[own + 1]! | 0;
    let s2 = streams[own + 2]! | 0;
    let s3 = streams[own + 3]! | 0;
    const at = 6 * ray;
    let x = states[at]!;
    let y = states[at + 1]!;
    let z = states[at + 2]!;
    let dx = states[at + 3]!;
    let dy = states[at + 4]!;
    let dz = states[at + 5]!;
    let ix = 1 / dx;
    let iy = 1 / dy;
    let iz = 1 / dz;
    // 1 for the wall at the far end of an axis, 0 for the one at 0. These are factors, since a branch by the
    // sign of a random direction is predicted wrongly half of the time.
    let farX = dx > 0 ? 1 : 0;
    let farY = dy > 0 ? 1 : 0;
    let farZ = dz > 0 ? 1 : 0;
    let path = 0;
    let free = frees[ray]!;
    let markAt = toMarks[ray]!;
    // The path up to which flights end at walls and leave no mark; in a bulk that scatters each is looked at.
    let event = isClear ? markAt : -1;
    let zone = -1;
    let metFace = 0;
    let flights = 0;
    while (zone < 0 && flights < mostFlights) {
      while (marked.length - mark < mostMarks + spareMarks) marked = marks.cells = doubled(marked);
      const room = Math.floor((marked.length - mark) / mostMarks);
      const bound = Math.min(mostFlights, flights + room) | 0;
      let left = (bound - flights) | 0;
      while (left > 0) {
        left = (left - 1) | 0;
        const toX = (width * farX - x) * ix;
        const toY = (length * farY - y) * iy;
        const toZ = (thickness * farZ - z) * iz;
        let axis = 2;
        let way = toZ;
        if (toX < way) {
          way = toX;
          axis = 0;
        }
        if (toY < way) {
          way = toY;
          axis = 1;
        }
        let reached = path + way;
        if (reached > event) {
          const scatters = way > free;
          if (scatters) {
            way = free;
            reached = path + way;
          }
          free -= way;
          while (markAt < reached) {
            const part = markAt - path;
            marked[mark] =
              Math.imul(((y + dy * part) * perY) | 0, cellsX) + (((x + dx * part) * perX) | 0);
            mark = (mark + 1) | 0;
            markAt += spacing;
          }
          if (scatters) {
            path = reached;
            x += dx * way;
            y += dy * way;
            z += dz * way;
            let drawnP = 0;
            let drawn = 0;
            let p = 0;
            let q = 0;
            let r = 0;
            do {
              drawn = (((s0 + s1) | 0) + s3) | 0;
              s3 = (s3 + 1) | 0;
              s0 = s1 ^ (s1 >>> 9);
              s1 = (s2 + (s2 << 3)) | 0;
              s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
              drawnP = drawn;
              drawn = (((s0 + s1) | 0) + s3) | 0;
              s3 = (s3 + 1) | 0;
              s0 = s1 ^ (s1 >>> 9);
              s1 = (s2 + (s2 << 3)) | 0;
              s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
              p = (drawnP + 0.5) * unit;
              q = (drawn + 0.5) * unit;
              r = p * p + q * q;
            } while (r >= 1);
            const lift = 2 * Math.sqrt(1 - r);
            dx = p * lift;
            dy = q * lift;
            dz = 1 - 2 * r;
            farX = (drawnP >>> 31) ^ 1;
            farY = (drawn >>> 31) ^ 1;
            farZ = dz > 0 ? 1 : 0;
            ix = 1 / dx;
            iy = 1 / dy;
            iz = 1 / dz;
            drawn = (((s0 + s1) | 0) + s3) | 0;
            s3 = (s3 + 1) | 0;
            s0 = s1 ^ (s1 >>> 9);
            s1 = (s2 + (s2 << 3)) | 0;
            s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
            free = -bulkLength * Math.log(((drawn >>> 0) + 0.5) * 2 ** -32);
            continue;
          }
          if (isClear) event = markAt;
        }
        path = reached;
        x += dx * way;
        y += dy * way;
        z += dz * way;
        let face = 0;
        let across = x;
        let along = z;
        if (axis === 0) {
          face = farX;
          across = y;
        } else if (axis === 1) {
          face = (2 + farY) | 0;
        } else {
          face = (4 + farZ) | 0;
          along = y;
        }
        const record = face << 2;
        const listed = numbers[record]!;
        const limit = numbers[record | 2]!;
        let taken = -1;
        if (listed >= 0) {
          const column = (across * reals[face << 1]!) | 0;
          const row = (along * reals[(face << 1) | 1]!) | 0;
          let entry =
            numbers[(listed + ((Math.imul(row, numbers[record | 1]!) + column) | 0)) | 0]!;
          if (entry >= 0) {
            for (let tile = numbers[entry]!; tile >= 0; ) {
              const rim = tile << 2;
              if (
                across >= ends[rim]! &&
                across <= ends[rim | 1]! &&
                along >= ends[rim | 2]! &&
                along <= ends[rim | 3]!
              ) {
                taken = tile;
                break;
              }
              entry = (entry + 1) | 0;
              tile = numbers[entry]!;
            }
          }
        }
        // Without a draw: below the limit of a mirror, not below that of a diffuse face.
        let drawn = -2147483648;
        if (((limit + 1) | 0) > -2147483647) {
          drawn = (((s0 + s1) | 0) + s3) | 0;
          s3 = (s3 + 1) | 0;
          s0 = s1 ^ (s1 >>> 9);
          s1 = (s2 + (s2 << 3)) | 0;
          s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
        }
        if (drawn < limit) {
          if (axis === 0) {
            dx = -dx;
            ix = -ix;
            farX ^= 1;
          } else if (axis === 1) {
            dy = -dy;
            iy = -iy;
            farY ^= 1;
          } else {
            dz = -dz;
            iz = -iz;
            farZ ^= 1;
          }
          if (taken >= 0) {
            zone = taken;
            metFace = face;
            break;
          }
          continue;
        }
        let drawnP = 0;
        let p = 0;
        let q = 0;
        let r = 0;
        do {
          drawn = (((s0 + s1) | 0) + s3) | 0;
          s3 = (s3 + 1) | 0;
          s0 = s1 ^ (s1 >>> 9);
          s1 = (s2 + (s2 << 3)) | 0;
          s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
          drawnP = drawn;
          drawn = (((s0 + s1) | 0) + s3) | 0;
          s3 = (s3 + 1) | 0;
          s0 = s1 ^ (s1 >>> 9);
          s1 = (s2 + (s2 << 3)) | 0;
          s2 = (((s2 << 21) | (s2 >>> 11)) + drawn) | 0;
          p = (drawnP + 0.5) * unit;
          q = (drawn + 0.5) * unit;
          r = p * p + q * q;
        } while (r >= 1);
        const up = Math.sqrt(1 - r);
        const farP = (drawnP >>> 31) ^ 1;
        const farQ = (drawn >>> 31) ^ 1;
        if (axis === 2) {
          dx = p;
          dy = q;
          dz = farZ === 1 ? -up : up;
          farX = farP;
          farY = farQ;
          farZ ^= 1;
        } else if (axis === 0) {
          dx = farX === 1 ? -up : up;
          dy = p;
          dz = q;
          farX ^= 1;
          farY = farP;
          farZ = farQ;
        } else {
          dx = p;
          dy = farY === 1 ? -up : up;
          dz = q;
          farX = farP;
          farY ^= 1;
          farZ = farQ;
        }
        // One division in place of three: no component is below 2⁻³².
        const whole = 1 / (dx * dy * dz);
        ix = dy * dz * whole;
        iy = dx * dz * whole;
        iz = dx * dy * whole;
        if (taken >= 0) {
          zone = taken;
          metFace = face;
          break;
        }
      }
      flights = bound - left;
    }
    states[at] = x;
    states[at + 1] = y;
    states[at + 2] = z;
    states[at + 3] = dx;
    states[at + 4] = dy;
    states[at + 5] = dz;
    frees[ray] = free;
    toMarks[ray] = markAt - path;
    streams[own] = s0;
    streams[own + 1] = s1;
    streams[own + 2] = s2;
    streams[own + 3] = s3;
    zones[k] = zone;
    acrossAt[k] = metFace < 2 ? y : x;
    alongAt[k] = metFace < 4 ? z : y;
    lengths[k] = path;
    flown[k] = flights;
    marksTo[k] = mark;
    total += flights;
    marks.count = mark;
  }
  return total;
}
