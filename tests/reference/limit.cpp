// The same Newton solver on the same network, written plainly in C++: the limit for what the library
// can reach on a machine. Reads a network from standard input in the layout that tests/bench/steady.js writes,
// solves it `solves` times with one count changed each time, does so `stretches` times over, and
// writes what that reads back.
//
// Input:  nodes links stretches solves changed-link
//         per node: fixed temperature (0 when free), load
//         per link: from to coefficient exponent
// Output: seconds of the quickest stretch, mean number of steps, mean temperature of node 0, and the
//         temperatures of the last solve.
// Needs: apt-get install g++
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <map>
#include <set>
#include <utility>
#include <vector>

struct Link {
  int from, to, intoTo, intoFrom, exponent;
  double coefficient, first;
};

struct Network {
  int nodes;
  std::vector<double> temperatures, loads, residual, jacobian, step, before, inverses;
  std::vector<int> freeNodes, plan, starts;
  std::vector<Link> links;
  double coldest, scale;
  int steps;

  // Nodes with few neighbours first, as in src/network/elimination.ts.
  void planElimination() {
    std::vector<std::set<int>> neighbours(nodes);
    std::map<std::pair<int, int>, int> positions;
    const auto store = [&](int row, int column) {
      return positions.emplace(std::pair(row, column), nodes + positions.size()).first->second;
    };
    const auto couple = [&](int a, int b) {
      neighbours[a].insert(b);
      neighbours[b].insert(a);
      store(a, b);
      store(b, a);
    };
    std::set<int> waiting(freeNodes.begin(), freeNodes.end());
    for (Link& link : links) {
      const bool coupled = waiting.count(link.from) && waiting.count(link.to);
      if (coupled) couple(link.from, link.to);
      link.intoTo = coupled ? store(link.to, link.from) : link.from;
      link.intoFrom = coupled ? store(link.from, link.to) : link.to;
    }
    while (!waiting.empty()) {
      int pivot = *waiting.begin();
      for (int i : waiting) if (neighbours[i].size() < neighbours[pivot].size()) pivot = i;
      const std::set<int> around = neighbours[pivot];
      for (int a : around) neighbours[a].erase(pivot);
      for (int a : around) for (int b : around) if (a < b) couple(a, b);
      waiting.erase(pivot);
      starts.push_back(plan.size());
      plan.push_back(pivot);
      plan.push_back(around.size());
      for (int a : around) plan.insert(plan.end(), {a, store(a, pivot), store(pivot, a)});
      for (int a : around) for (int b : around) if (a != b) plan.push_back(store(a, b));
    }
    jacobian.resize(nodes + positions.size());
  }

  static double power(double T, int p) {
    switch (p) {
      case 0: return 1;
      case 1: return T;
      case 2: return T * T;
      case 3: return T * T * T;
      case 4: return T * T * (T * T);
      default: return std::pow(T, p);
    }
  }

  double evaluate() {
    for (int i = 0; i < nodes; i++) residual[i] = -loads[i];
    std::fill(jacobian.begin(), jacobian.end(), 0.0);
    scale = 0;
    for (const Link& link : links) {
      const double a = temperatures[link.from], b = temperatures[link.to];
      const double powerFrom = link.coefficient * power(a, link.exponent - 1);
      const double powerTo = link.coefficient * power(b, link.exponent - 1);
      const double flow = powerFrom * a - powerTo * b;
      scale += std::fabs(powerFrom * a);
      residual[link.from] += flow;
      residual[link.to] -= flow;
      jacobian[link.intoTo] += link.exponent * powerFrom;
      jacobian[link.intoFrom] += link.exponent * powerTo;
    }
    double norm = 0;
    for (int node : freeNodes) norm += std::fabs(residual[node]);
    return norm;
  }

  bool eliminate() {
    double* matrix = jacobian.data();
    double* x = step.data();
    size_t at = 0;
    for (size_t s = 0; s < starts.size(); s++) {
      const int pivot = plan[at];
      const size_t first = at + 2, last = first + 3 * plan[at + 1];
      double sum = matrix[pivot];
      for (size_t r = first; r < last; r += 3) sum += matrix[plan[r + 1]];
      if (!(sum > 0 && sum < INFINITY)) return false;
      const double inverse = 1 / sum;
      inverses[pivot] = inverse;
      const double value = x[pivot] *= inverse;
      const double out = matrix[pivot] * inverse;
      at = last;
      for (size_t r = first; r < last; r += 3) {
        const double coupling = matrix[plan[r + 1]];
        x[plan[r]] += coupling * value;
        matrix[plan[r]] += out * matrix[plan[r + 2]];
        const double share = coupling * inverse;
        for (size_t c = first; c < last; c += 3) {
          if (c != r) matrix[plan[at++]] += share * matrix[plan[c + 2]];
        }
      }
    }
    for (size_t s = starts.size(); s-- > 0;) {
      const size_t start = starts[s], last = start + 2 + 3 * plan[start + 1];
      double sum = 0;
      for (size_t r = start + 2; r < last; r += 3) sum += matrix[plan[r + 2]] * x[plan[r]];
      x[plan[start]] += inverses[plan[start]] * sum;
    }
    return true;
  }

  bool findStep() {
    for (int node : freeNodes) step[node] = -residual[node];
    return eliminate();
  }

  // As in src/network/steady.ts.
  static double nearCubeRoot(double a) {
    const double guess = (1 + 2 * a) / (2 + a), cube = guess * guess * guess;
    return guess * (cube + 2 * a) / (2 * cube + a);
  }

  // The first step is for the cube of the temperature, where that helps, as in src/network/steady.ts.
  double leaveCold() {
    for (int node : freeNodes) temperatures[node] = coldest;
    const double norm = evaluate();
    steps = 1;
    double largest = 0;
    if (findStep()) {
      for (int node : freeNodes) largest = std::max(largest, std::fabs(step[node] / coldest));
      if (largest < 2) {
        double lowest = INFINITY;
        for (int node : freeNodes) {
          temperatures[node] *= nearCubeRoot(1 + 3 * step[node] / coldest);
          lowest = std::min(lowest, temperatures[node]);
        }
        const double reached = lowest > 0 ? evaluate() : INFINITY;
        if (reached < norm) return reached;
        for (int node : freeNodes) temperatures[node] = coldest;
      }
    }
    steps = 0;
    return evaluate();
  }

  bool solve() {
    double norm = leaveCold();
    while (++steps <= 200) {
      if (!findStep()) return false;
      bool settled = true;
      double shortening = 1;
      for (int node : freeNodes) {
        const double T = before[node] = temperatures[node], change = step[node];
        temperatures[node] = T + change;
        if (std::fabs(change) <= 4e-9 * T) continue;
        settled = false;
        if (change > 2 * T) shortening = std::min(shortening, 2 * T / change);
        if (change < -2 * T / 3) shortening = std::min(shortening, -2 * T / 3 / change);
      }
      if (settled) return true;
      double fraction = shortening, reached = 0;
      for (;; fraction /= 2) {
        if (fraction < 1e-4 * shortening) return false;
        if (fraction < 1) {
          for (int node : freeNodes) temperatures[node] = before[node] + fraction * step[node];
        }
        reached = evaluate();
        if (reached <= (1 - 1e-4 * fraction) * norm || reached <= 3.6e-15 * scale) break;
      }
      norm = reached;
    }
    return false;
  }
};

int main() {
  Network n;
  int links, stretches, solves, changed;
  if (std::scanf("%d %d %d %d %d", &n.nodes, &links, &stretches, &solves, &changed) != 5) return 1;
  n.temperatures.resize(n.nodes);
  n.loads.resize(n.nodes);
  n.coldest = INFINITY;
  for (int i = 0; i < n.nodes; i++) {
    if (std::scanf("%lf %lf", &n.temperatures[i], &n.loads[i]) != 2) return 1;
    if (n.temperatures[i] > 0) n.coldest = std::min(n.coldest, n.temperatures[i]);
    else n.freeNodes.push_back(i);
  }
  n.links.resize(links);
  for (Link& l : n.links) {
    if (std::scanf("%d %d %lf %d", &l.from, &l.to, &l.coefficient, &l.exponent) != 4) return 1;
    l.first = l.coefficient;
  }
  n.planElimination();
  n.residual.resize(n.nodes);
  n.step.assign(n.nodes, 0);
  n.before.resize(n.nodes);
  n.inverses.resize(n.nodes);

  double best = INFINITY, sum = 0, steps = 0;
  for (int stretch = 0; stretch < stretches; stretch++) {
    sum = steps = 0;
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < solves; i++) {
      Link& link = n.links[changed];
      link.coefficient = link.first * (1 + (i % 100) / 100.0);
      if (!n.solve()) return 2;
      sum += n.temperatures[0];
      steps += n.steps;
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    best = std::min(best, took.count());
  }
  std::printf("%.9g %.9g %.17g", best, steps / solves, sum / solves);
  for (const double T : n.temperatures) std::printf(" %.17g", T);
  std::printf("\n");
}
