"""The posterior of a small part by brute force: what tests/verdict_oracle.rs holds the engine against.

Every subset of faulty circuits is listed, every structural hypothesis is worked out by itself, and everything unknown is summed
over fine grids. Nothing is shared with the engine but the statement of the model; no short cut of the engine (products instead of
subsets, contact in closed form) is used here.

    python3 tests/reference/oracle.py 300 tests/verdict_data/oracle.json 2      (2: so many processes)

The numbers of the model stand in MODEL, in one place. NumPy and SciPy only.
"""
import itertools, json, multiprocessing, sys, time
import numpy as np
from scipy.special import log_ndtr, ndtr

MODEL = dict(
    spread_centre=1 / 2.5,          # median of the spread, in tolerances
    spread_down=2.2, spread_up=1.6,  # factors of the two-sided log-normal about it
    fills=0.30, normal=0.65,        # weight of "uniform and fills the tolerance"; of the rest, normal against uniform
    rates=((.01, .60), (.05, .30), (.25, .10)),   # fault rate of a circuit, with its weight
    complaint=((.05, .30), (.15, .50), (.35, .20)),
    smallest=.05, largest=100.,     # shorted turns 5 % to all; added resistance 5 % to a hundredfold
    kinds=(.40, .40, .20),          # shorted turns, added resistance, open
    contact=.02,                    # mean of what one probing adds, ohms
    soft=.02,                       # soft edge of a window, relative
    off=.01, decades=np.log(10.),   # the whole family off its window; span of its place where nothing is known
    # prior of each structural hypothesis of a part, and what it is spread over
    common_open=.02, common_resistive=.02, common=(.1, 20.), joined=.01, zero=.03, zero_span=1.5, dirty=.05, dirty_span=(.1, 100.),
    never=1e-6,                     # a display that a hypothesis does not explain, per ohm
)


def bins(x, half):
    """Share of a standard normal between x - half and x + half, exact in the tails."""
    a = -np.abs(x)
    return ndtr(a + half) - ndtr(a - half)


class Part:
    """Grids of one part: place of the family (log), spread with shape, and for each circuit the density of its reading."""

    def __init__(self, readings, tolerance, step, window, model):
        self.y, self.tol, self.q, self.window, self.M = np.asarray(readings, float), tolerance, step, window, model
        self.n = len(readings)
        seen = self.y[np.isfinite(self.y)]
        if window is not None:
            seen = np.concatenate([seen, window])
        if not len(seen):
            seen = np.array([5., 6.])
        low, high = np.log(max(seen.min(), .02)) - .35, np.log(seen.max()) + .35
        self.t = np.arange(low, high, max(.0012, (high - low) / 1500))
        self.m = np.exp(self.t)
        z = np.linspace(-2.6, 2.6, 13)
        factor = np.where(z < 0, model['spread_down'], model['spread_up'])
        s = tolerance * model['spread_centre'] * factor ** z
        w = np.exp(-.5 * z * z) * np.log(factor)
        w /= w.sum()
        rest = 1 - model['fills']
        self.spreads = [(a, rest * b * model['normal'], False) for a, b in zip(s, w)]
        self.spreads += [(a, rest * b * (1 - model['normal']), True) for a, b in zip(s, w)]
        self.spreads += [(tolerance / np.sqrt(3), model['fills'], True)]

    def place(self):
        """Prior of the place: inside the window softly, or anywhere within the span; and the same when it is off."""
        d = np.gradient(self.t)
        anywhere = d / self.M['decades']
        if self.window is None:
            return anywhere, None
        lo, hi = np.log(self.window)
        inside = ndtr((self.t - lo) / self.M['soft']) - ndtr((self.t - hi) / self.M['soft'])
        return (1 - self.M['off']) * inside * d / (hi - lo), self.M['off'] * anywhere

    def below(self, x, sd, uniform):
        """Share of readings at most x above the place: member (normal, or uniform with the same deviation) plus contact, exact."""
        tau = self.M['contact']
        if uniform:
            a = np.sqrt(3.) * sd
            def ramp(v):                    # integral of 1 - exp(-v / tau) from 0 to v
                v = np.maximum(v, 0)
                return v + tau * np.expm1(-v / tau)
            return (ramp(x + a) - ramp(x - a)) / (2 * a)
        late = np.exp(.5 * (sd / tau) ** 2 - x / tau + log_ndtr(x / sd - sd / tau))
        return ndtr(x / sd) - late

    def density(self, y, mu, s, uniform):
        """Density of the display y for places mu and spread s, the step of the display exact."""
        x, sd, h = y - mu, mu * s, self.q / 2
        return np.maximum(self.below(x + h, sd, uniform) - self.below(x - h, sd, uniform), 0) / self.q

    def dirty(self, y, s, uniform, grid):
        """The same with one contact that is far worse, on a grid of how much it adds."""
        return np.mean([self.density(y - r, self.m, s, uniform) if y > r else 0 * self.m for r in grid], 0)

    def tables(self):
        """For each spread: density of each circuit sound and faulty on the grid of places."""
        u = np.exp(np.linspace(np.log(self.M['smallest']), 0, 241))
        u = np.sqrt(u[1:] * u[:-1])
        v = np.exp(np.linspace(np.log(self.M['smallest']), np.log(self.M['largest']), 401))
        v = np.sqrt(v[1:] * v[:-1])
        logs = np.concatenate([np.log1p(-u), np.log1p(v)])
        weight = np.concatenate([np.full(len(u), self.M['kinds'][0] / len(u)), np.full(len(v), self.M['kinds'][1] / len(v))])
        for s, w, uniform in self.spreads:
            sound, bad = [], []
            for y in self.y:
                if np.isinf(y):
                    sound.append(np.full(len(self.t), self.M['never']))
                    bad.append(np.full(len(self.t), self.M['kinds'][2]))
                    continue
                near = np.log(max(y, self.q))
                wide = np.unique(np.concatenate([np.linspace(near - 3, near + .6, 400), near + np.arange(-.5, .2, max(s / 6, .0004))]))
                table = self.density(y, np.exp(wide), s, uniform)
                at = lambda t: np.interp(t, wide, table, left=0, right=0)
                sound.append(self.density(y, self.m, s, uniform))
                bad.append(sum(k * at(self.t + g) for g, k in zip(logs, weight)))
            yield s, w, uniform, np.array(sound), np.array(bad)


def window_fit(part, shown):
    """How a window bears on one sound circuit, given the place: it lies in it softly as well."""
    if part.window is None:
        return 1.
    lo, hi = np.log(part.window)
    edge = lambda x: ndtr((x - lo) / part.M['soft']) - ndtr((x - hi) / part.M['soft'])
    y = np.log(np.where(np.isfinite(shown), np.maximum(shown, 1e-3), hi))
    return np.minimum(1, (edge(y)[:, None] + 1e-12) / (edge(part.t)[None] + 1e-12))


def posterior(readings, tolerance, step, window=None, complaint=False, shared=True, model=MODEL):
    """Probability of each subset of faulty circuits, and of each structural hypothesis, by listing them."""
    part = Part(readings, tolerance, step, window, model)
    n, y = part.n, part.y
    subsets = list(itertools.chain.from_iterable(itertools.combinations(range(n), k) for k in range(n + 1)))
    weight = dict.fromkeys(subsets, 0.)
    others = dict.fromkeys(['family-off', 'common-open', 'common-resistive', 'zero-wrong'], 0.)
    others.update({f'joined-{i}-{j}': 0. for i, j in itertools.combinations(range(n), 2)} if shared else {})
    others.update({f'dirty-{i}': 0. for i in range(n)})
    rates = model['complaint'] if complaint else model['rates']
    on, off = part.place()
    fit = window_fit(part, y)
    structural = model['common_open'] + model['common_resistive'] + model['joined'] + model['zero'] + model['dirty']
    for s, w, uniform, sound, bad in part.tables():
        l0 = sound * fit
        for subset in subsets:
            inside = np.array([i in subset for i in range(n)])
            like = np.prod(np.where(inside[:, None], bad, l0), 0)
            share = sum(p * r ** len(subset) * (1 - r) ** (n - len(subset)) for r, p in rates)
            weight[subset] += (1 - structural) * w * share * (on * like).sum()
        if off is not None:
            others['family-off'] += (1 - structural) * w * (off * np.prod(sound, 0)).sum()
        if shared and np.isinf(y).all():
            others['common-open'] += model['common_open'] * w * on.sum()
        finite = np.isfinite(y).all()
        if shared and finite:
            lo, hi = model['common']
            grid = np.exp(np.linspace(np.log(lo), np.log(hi), 60))
            for r in grid:
                like = np.prod([part.density(a - r, part.m, s, uniform) if a > r else 0 * part.m for a in y], 0)
                others['common-resistive'] += model['common_resistive'] / len(grid) * w * (on * like).sum()
        if finite:
            grid = np.linspace(-model['zero_span'], model['zero_span'], 121)
            for z in grid:
                like = np.prod([part.density(a - z, part.m, s, uniform) if a - z > 0 else 0 * part.m for a in y], 0)
                others['zero-wrong'] += model['zero'] / len(grid) * w * (on * like).sum()
        if shared:
            pairs = list(itertools.combinations(range(n), 2))
            for i, j in pairs:
                if not np.isfinite([y[i], y[j]]).all():
                    continue
                # Both read the two in parallel: half of the place, spread by the mean of two members.
                half = part.density(y[i], part.m / 2, s / np.sqrt(2), False) * bins((y[j] - y[i]) / part.M['contact'], part.q / part.M['contact'])
                rest = np.prod([l0[k] for k in range(n) if k not in (i, j)], 0) if n > 2 else 1.
                others[f'joined-{i}-{j}'] += model['joined'] / len(pairs) * w * (on * half * rest).sum()
        lo, hi = model['dirty_span']
        grid = np.exp(np.linspace(np.log(lo), np.log(hi), 90))
        for i in range(n):
            if np.isinf(y[i]):
                like = np.full(len(part.t), .2)
            else:
                like = part.dirty(y[i], s, uniform, grid)
            rest = np.prod([l0[k] for k in range(n) if k != i], 0) if n > 1 else 1.
            others[f'dirty-{i}'] += model['dirty'] / n * w * (on * like * rest).sum()
    total = sum(weight.values()) + sum(others.values())
    circuits = [sum(p for subset, p in weight.items() if i in subset) / total for i in range(n)]
    return dict(circuits=circuits, none=weight[()] / total, others={k: v / total for k, v in others.items()},
                subsets={' '.join(map(str, k)): v / total for k, v in weight.items() if v / total > 1e-4})


def parts(count, seed=20):
    """Random small parts of the kinds that the engine is to be right about."""
    rng = np.random.default_rng(seed)
    for nth in range(count):
        n = int(rng.integers(2, 7))
        step = [.001, .01, .1][nth % 3]
        tolerance = float(rng.choice([.03, .04, .06]))
        window = (4.68, 5.72) if rng.random() < .7 else None
        spread = tolerance * rng.choice([.15, .4, .8])
        r = 5.2 * (1 + rng.uniform(-.05, .05)) * (1 + spread * rng.standard_normal(n))
        kind = ['sound', 'one', 'one', 'two', 'open', 'common-open', 'common-resistive', 'joined', 'zero', 'dirty'][nth % 10]
        i, j = rng.permutation(n)[:2]
        if kind in ('one', 'two'):
            r[i] *= 1 + rng.choice([-1, 1]) * rng.choice([.06, .1, .2, .4])
        if kind == 'two':
            r[j] *= 1 + rng.choice([-1, 1]) * rng.choice([.1, .2, .4])
        if kind == 'joined':
            r[i] = r[j] = 1 / (1 / r[i] + 1 / r[j])
        if kind == 'common-resistive':
            r += rng.uniform(.5, 3)
        if kind == 'zero':
            r += rng.uniform(-1.2, 1.2)
        if kind == 'dirty':
            r[i] += np.exp(rng.uniform(np.log(.3), np.log(20)))
        shown = np.round((r + rng.exponential(.015, n)) / step) * step
        if kind == 'open':
            shown[i] = np.inf
        if kind == 'common-open':
            shown[:] = np.inf
        yield dict(kind=kind, tolerance=tolerance, step=step, window=window, shared=True, complaint=bool(nth % 4 == 3),
                   readings=[float(x) if np.isfinite(x) else None for x in np.round(shown, 4)])


def worked(one):
    readings = [np.inf if x is None else x for x in one['readings']]
    found = posterior(readings, one['tolerance'], one['step'], one['window'], one['complaint'], one['shared'])
    return dict(one, expected=json.loads(json.dumps(found, default=float)))


def main():
    count, path = int(sys.argv[1]), sys.argv[2]
    workers = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    start, out = time.perf_counter(), []
    with multiprocessing.Pool(workers) as pool:
        for one in pool.imap(worked, parts(count)):
            out.append(one)
            found = one['expected']
            print(len(out), one['kind'], [round(p, 3) for p in found['circuits']], round(found['none'], 3),
                  {k: round(v, 3) for k, v in found['others'].items() if v > .02}, round(time.perf_counter() - start, 1), flush=True)
    rounded = json.loads(json.dumps(out), parse_float=lambda text: round(float(text), 6))
    with open(path, 'w') as file:
        file.write('[\n' + ',\n'.join(json.dumps(one) for one in rounded) + '\n]\n')


if __name__ == '__main__':
    main()
