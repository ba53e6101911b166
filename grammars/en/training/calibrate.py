"""Fits the doubt that acceptance states, and shows how often it is right.

usage: calibrate.py fit FIGURES.json ...
       calibrate.py check FIGURES.json ... [--svg FILE]

FIGURES.json come from `bothhands measure FOLDER --json --clips`. Every stretch that has a first candidate counts: was it wrong? `fit`
prints the weights for src/hear/doubt.rs (logistic regression on how far each opinion puts the candidate ahead, ridge 1e-2).
`check` takes the doubt that the program stated and compares it with what came true, in groups of growing doubt.
"""

import argparse
import json

import numpy as np

WIDEST = 3.0


def rows(files):
    for name in files:
        for condition in json.load(open(name))["conditions"]:
            for clip in condition["outcomes"]:
                heard = [s for s in clip["stretches"] if s["outcome"] != "no-speech"]
                if len(heard) == 1 and clip["said"]:
                    yield clip, heard[0]


def features(stretch):
    by = {o["by"]: o for o in stretch["opinions"]}
    if any(o.get("support") is None for o in by.values()) or len(by) < 3:
        return None
    if "[unk]" in by["words"]["words"].split():
        return None  # asked whatever the leads are
    return [1.0, *(by[k]["support"] / WIDEST for k in ("phrases", "second", "words"))]


def fit(options):
    data = [(features(s), not clip["value_right"]) for clip, s in rows(options.files)]
    x = np.array([f for f, _ in data if f])
    y = np.array([float(w) for f, w in data if f])
    w = np.zeros(x.shape[1])
    ridge = np.diag([0.0] + [1e-2] * (x.shape[1] - 1)) * len(x) / 100
    for _ in range(50):
        p = 1 / (1 + np.exp(-x @ w))
        gradient = x.T @ (p - y) + ridge @ w
        w -= np.linalg.solve(x.T @ (x * (p * (1 - p))[:, None]) + ridge + 1e-9 * np.eye(len(w)), gradient)
    p = 1 / (1 + np.exp(-x @ w))
    print(f"{len(y)} stretches, {int(y.sum())} wrong")
    print("constant, phrases, second, words:", ", ".join(f"{v:.2f}" for v in w))
    for limit in (0.02, 0.03, 0.04, 0.05, 0.06, 0.08):
        taken = p <= limit
        print(f"limit {limit}: taken {taken.mean():.3f}, wrong of all {y[taken].sum() / len(y):.4f}, wrong of taken {y[taken].mean() if taken.any() else 0:.4f}")


def check(options):
    data = [(s["doubt"], not clip["value_right"]) for clip, s in rows(options.files) if s.get("doubt") is not None]
    doubt = np.array([d for d, _ in data])
    wrong = np.array([float(w) for _, w in data])
    edges = [0, 0.02, 0.03, 0.05, 0.1, 0.2, 0.4, 0.6, 1.0001]
    points = []
    print("doubt from, to: stretches, mean doubt, share wrong")
    for low, high in zip(edges, edges[1:]):
        inside = (doubt >= low) & (doubt < high)
        if inside.any():
            points.append((doubt[inside].mean(), wrong[inside].mean(), int(inside.sum())))
            print(f"{low}, {min(high, 1)}: {points[-1][2]}, {points[-1][0]:.4f}, {points[-1][1]:.4f}")
    if options.svg:
        open(options.svg, "w").write(plot(points))


def plot(points):
    """Stated doubt against what came true, both axes from 0.001 to 1 by powers of ten."""
    at = lambda v: (np.log10(max(v, 1e-3)) + 3) / 3 * 300
    marks = "".join(
        f'<circle cx="{60 + at(d):.0f}" cy="{340 - at(w):.0f}" r="5" fill="#205080"/>'
        f'<text x="{68 + at(d):.0f}" y="{336 - at(w):.0f}" font-size="11">{n}</text>'
        for d, w, n in points
    )
    ticks = "".join(
        f'<text x="{60 + at(v):.0f}" y="360" text-anchor="middle" font-size="11">{v:g}</text>'
        f'<text x="54" y="{344 - at(v):.0f}" text-anchor="end" font-size="11">{v:g}</text>'
        for v in (0.001, 0.01, 0.1, 1)
    )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 400" font-family="sans-serif" role="img">'
        "<title>Stated doubt and the share that was wrong</title>"
        '<rect width="400" height="400" fill="white"/><rect x="60" y="40" width="300" height="300" fill="none" stroke="#888"/>'
        '<path d="M60 340 360 40" stroke="#888" stroke-dasharray="4"/>'
        f"{ticks}{marks}"
        '<text x="210" y="385" text-anchor="middle" font-size="13">doubt stated</text>'
        '<text x="60" y="28" font-size="13">share wrong (beside each point: stretches)</text></svg>\n'
    )


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("what", choices=["fit", "check"])
    parser.add_argument("files", nargs="+")
    parser.add_argument("--svg")
    options = parser.parse_args()
    {"fit": fit, "check": check}[options.what](options)
