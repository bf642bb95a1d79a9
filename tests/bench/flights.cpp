// The loop of src/chip/flights/trace.ts in C++, line by line: same arithmetic, same random numbers, same marks,
// same state kept of each phonon. Only the wall ahead is chosen by a condition, which is quicker here.
// Reads rays, their starts, the box, their generators and the contacts from standard input, then a byte for each
// turn; writes seconds of processor, flights and the mean path of each.
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <ctime>
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

double processor() {
  timespec now;
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return now.tv_sec + 1e-9 * now.tv_nsec;
}

int main() {
  auto sizes = read<int32_t>(6);  // rays, cells x, cells y, heads, tiles, rims
  int rays = sizes[0], nx = sizes[1], ny = sizes[2];
  auto box = read<double>(11);  // sides, shares, length from mark to mark, between scatterings
  auto scale = read<double>(12);
  auto rims = read<double>(sizes[5]);
  auto starts = read<double>(6 * (size_t)rays);
  auto toMarks = read<double>(rays);
  auto frees = read<double>(rays);
  auto generators = read<uint32_t>(4 * (size_t)rays);
  auto cells = read<int32_t>(12);
  auto first = read<int32_t>(6);
  auto heads = read<int32_t>(sizes[3]);
  auto tiles = read<int32_t>(sizes[4]);
  double width = box[0], length = box[1], thickness = box[2], spacing = box[9], bulk = box[10];
  double perX = nx / width * (1 - 0x1p-48), perY = ny / length * (1 - 0x1p-48);
  bool isClear = std::isinf(bulk);
  int32_t limits[6];
  for (int k = 0; k < 6; k++) {
    double share = box[3 + k];
    limits[k] = share == 0   ? INT32_MIN
                : share == 1 ? INT32_MAX
                             : (int32_t)(std::llround(share * 0x1p32) - (1LL << 31));
  }
  std::vector<uint16_t> marks(1 << 24);
  std::vector<double> states(6 * (size_t)rays), freeAfter(rays), toMarkAfter(rays);
  std::vector<double> acrossAt(rays), alongAt(rays), lengths(rays);
  std::vector<uint32_t> streams(4 * (size_t)rays);
  std::vector<int32_t> zones(rays), flown(rays), marksTo(rays);
  while (getchar() != EOF) {
    double begin = processor();
    size_t mark = 0;
    long total = 0;
    for (int ray = 0; ray < rays; ray++) {
      const double *start = &starts[6 * (size_t)ray];
      double x = start[0], y = start[1], z = start[2], dx = start[3], dy = start[4], dz = start[5];
      const uint32_t *own = &generators[4 * (size_t)ray];
      Generator random{own[0], own[1], own[2], own[3]};
      double ix = 1 / dx, iy = 1 / dy, iz = 1 / dz;
      double path = 0, free = frees[ray], markAt = toMarks[ray], event = isClear ? markAt : -1;
      int32_t zone = -1, metFace = 0, flights = 0;
      for (;;) {
        flights++;
        double toX = ((dx > 0 ? width : 0) - x) * ix;
        double toY = ((dy > 0 ? length : 0) - y) * iy;
        double toZ = ((dz > 0 ? thickness : 0) - z) * iz;
        int axis = 2;
        double way = toZ;
        if (toX < way) way = toX, axis = 0;
        if (toY < way) way = toY, axis = 1;
        double reached = path + way;
        if (reached > event) {
          bool scatters = way > free;
          if (scatters) way = free, reached = path + way;
          free -= way;
          while (markAt < reached) {
            double part = markAt - path;
            marks[mark++ & (marks.size() - 1)] =
                (int)((y + dy * part) * perY) * nx + (int)((x + dx * part) * perX);
            markAt += spacing;
          }
          if (scatters) {
            path = reached;
            x += dx * way;
            y += dy * way;
            z += dz * way;
            double p, q, r;
            do {
              p = (random.next() + 0.5) * 0x1p-31;
              q = (random.next() + 0.5) * 0x1p-31;
              r = p * p + q * q;
            } while (r >= 1);
            double lift = 2 * std::sqrt(1 - r);
            dx = p * lift;
            dy = q * lift;
            dz = 1 - 2 * r;
            ix = 1 / dx;
            iy = 1 / dy;
            iz = 1 / dz;
            free = -bulk * std::log(((uint32_t)random.next() + 0.5) * 0x1p-32);
            continue;
          }
          if (isClear) event = markAt;
        }
        path = reached;
        x += dx * way;
        y += dy * way;
        z += dz * way;
        int face;
        double across = x, along = z;
        if (axis == 2)
          face = dz > 0 ? 5 : 4, along = y;
        else if (axis == 0)
          face = dx > 0 ? 1 : 0, across = y;
        else
          face = dy > 0 ? 3 : 2;
        int32_t taken = -1;
        if (first[face] >= 0) {
          int column = across * scale[2 * face], row = along * scale[2 * face + 1];
          int entry = heads[first[face] + row * cells[2 * face] + column];
          if (entry >= 0)
            for (int tile; (tile = tiles[entry]) >= 0; entry++) {
              const double *rim = &rims[4 * tile];
              if (across >= rim[0] && across <= rim[1] && along >= rim[2] && along <= rim[3]) {
                taken = tile;
                break;
              }
            }
        }
        int32_t limit = limits[face], drawn = INT32_MIN;
        if (limit != INT32_MIN && limit != INT32_MAX) drawn = random.next();
        if (drawn < limit) {
          if (axis == 2)
            dz = -dz, iz = -iz;
          else if (axis == 0)
            dx = -dx, ix = -ix;
          else
            dy = -dy, iy = -iy;
        } else {
          double p, q, r;
          do {
            p = (random.next() + 0.5) * 0x1p-31;
            q = (random.next() + 0.5) * 0x1p-31;
            r = p * p + q * q;
          } while (r >= 1);
          double up = std::sqrt(1 - r);
          if (axis == 2)
            dx = p, dy = q, dz = dz > 0 ? -up : up;
          else if (axis == 0)
            dx = dx > 0 ? -up : up, dy = p, dz = q;
          else
            dx = p, dy = dy > 0 ? -up : up, dz = q;
          double whole = 1 / (dx * dy * dz);
          ix = dy * dz * whole;
          iy = dx * dz * whole;
          iz = dx * dy * whole;
        }
        if (taken >= 0) {
          zone = taken;
          metFace = face;
          break;
        }
      }
      double *state = &states[6 * (size_t)ray];
      state[0] = x, state[1] = y, state[2] = z, state[3] = dx, state[4] = dy, state[5] = dz;
      freeAfter[ray] = free;
      toMarkAfter[ray] = markAt - path;
      uint32_t *stream = &streams[4 * (size_t)ray];
      stream[0] = random.a, stream[1] = random.b, stream[2] = random.c, stream[3] = random.d;
      zones[ray] = zone;
      acrossAt[ray] = metFace < 2 ? y : x;
      alongAt[ray] = metFace < 4 ? z : y;
      lengths[ray] = path;
      flown[ray] = flights;
      marksTo[ray] = mark;
      total += flights;
    }
    double seconds = processor() - begin, sum = 0;
    for (double each : lengths) sum += each;
    printf("{\"seconds\": %.9g, \"flights\": %ld, \"path\": %.17g}\n", seconds, total, sum / rays);
    fflush(stdout);
  }
}
