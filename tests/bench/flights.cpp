// The loop of src/chip/flights/trace.ts in C++, number by number: same generators, same starts, same marks.
// Reads rays, their starts, the box, their generators and the contacts from standard input; writes
// seconds, flights and the mean path.
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <vector>

struct Generator {
  uint32_t a, b, c, d;
  int32_t next() {
    uint32_t out = a + b + d;
    d += 1;
    a = b ^ (b >> 9);
    b = c + (c << 3);
    c = ((c << 21) | (c >> 11)) + out;
    return (int32_t)out;
  }
};

template <class T> std::vector<T> read(size_t count) {
  std::vector<T> all(count);
  if (fread(all.data(), sizeof(T), count, stdin) != count) throw "too little to read";
  return all;
}

int main() {
  auto sizes = read<int32_t>(8);  // rays, cells x, cells y, heads, tiles, rims, turns, 0
  int rays = sizes[0], nx = sizes[1], ny = sizes[2];
  auto box = read<double>(10);  // sides, shares, length from mark to mark
  auto scale = read<double>(12);
  auto rims = read<double>(sizes[5]);
  auto starts = read<double>(6 * (size_t)rays);
  auto toMarks = read<double>(rays);
  auto states = read<uint32_t>(4 * (size_t)rays);
  auto cells = read<int32_t>(12);
  auto first = read<int32_t>(6);
  auto heads = read<int32_t>(sizes[3]);
  auto tiles = read<int32_t>(sizes[4]);
  double side[3] = {box[0], box[1], box[2]};
  double perX = nx / side[0] * (1 - 0x1p-48), perY = ny / side[1] * (1 - 0x1p-48);
  int32_t limit[6];
  for (int k = 0; k < 6; k++)
    limit[k] = box[3 + k] == 1 ? 0 : (int32_t)(std::llround(box[3 + k] * 0x1p32) - (1LL << 31));
  std::vector<uint16_t> marks(1 << 24);
  double best = 1e99, sum = 0;
  long flights = 0;
  for (int turn = 0; turn < sizes[6]; turn++) {
    auto begin = std::chrono::steady_clock::now();
    size_t mark = 0;
    flights = 0;
    sum = 0;
    for (int ray = 0; ray < rays; ray++) {
      const uint32_t *own = &states[4 * (size_t)ray];
      Generator random{own[0], own[1], own[2], own[3]};
      double at[3], way[3], inverse[3], path = 0, toMark = toMarks[ray];
      for (int k = 0; k < 3; k++) {
        at[k] = starts[6 * ray + k];
        way[k] = starts[6 * ray + 3 + k];
        inverse[k] = 1 / way[k];
      }
      for (;;) {
        flights++;
        double x = ((way[0] > 0 ? side[0] : 0) - at[0]) * inverse[0];
        double y = ((way[1] > 0 ? side[1] : 0) - at[1]) * inverse[1];
        double step = ((way[2] > 0 ? side[2] : 0) - at[2]) * inverse[2];
        int axis = 2;
        if (x < step) step = x, axis = 0;
        if (y < step) step = y, axis = 1;
        toMark -= step;
        while (toMark < 0) {
          double part = step + toMark;
          marks[mark++ & (marks.size() - 1)] =
              (int)((at[1] + way[1] * part) * perY) * nx + (int)((at[0] + way[0] * part) * perX);
          toMark += box[9];
        }
        path += step;
        for (int k = 0; k < 3; k++) at[k] += way[k] * step;
        int face = 2 * axis + (way[axis] > 0);
        double across = axis == 0 ? at[1] : at[0], along = axis == 2 ? at[1] : at[2];
        bool taken = false;
        if (first[face] >= 0) {
          int column = across * scale[2 * face], row = along * scale[2 * face + 1];
          int entry = heads[first[face] + row * cells[2 * face] + column];
          if (entry >= 0)
            for (int tile; (tile = tiles[entry]) >= 0; entry++) {
              const double *rim = &rims[4 * tile];
              if (across >= rim[0] && across <= rim[1] && along >= rim[2] && along <= rim[3]) {
                taken = true;
                break;
              }
            }
        }
        if (taken) break;
        double mirror = box[3 + face];
        bool isMirror = mirror == 1;
        if (!isMirror && mirror > 0) isMirror = random.next() < limit[face];
        if (isMirror) {
          way[axis] = -way[axis];
          inverse[axis] = -inverse[axis];
          continue;
        }
        double p, q, r;
        do {
          p = (random.next() + 0.5) * 0x1p-31;
          q = (random.next() + 0.5) * 0x1p-31;
          r = p * p + q * q;
        } while (r >= 1);
        double up = std::sqrt(1 - r);
        way[axis] = face & 1 ? -up : up;
        way[axis == 0 ? 1 : 0] = p;
        way[axis == 2 ? 1 : 2] = q;
        double whole = 1 / (way[0] * way[1] * way[2]);
        inverse[0] = way[1] * way[2] * whole;
        inverse[1] = way[0] * way[2] * whole;
        inverse[2] = way[0] * way[1] * whole;
      }
      sum += path;
    }
    double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    if (seconds < best) best = seconds;
  }
  printf("{\"seconds\": %.9g, \"flights\": %ld, \"path\": %.17g}\n", best, flights, sum / rays);
}
