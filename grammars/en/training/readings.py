"""Owns what is spoken for measuring and for drill: readings as the grammar takes them, digit strings, single digits.

`readings` draws for measuring: a number in one of the ways of the grammar, most with a unit, or a state of the display; at most six
words. `strings` draws five to ten digits one by one. `drill` draws what training is short of: single digits and short strings.
"""

from vocabulary import DIGITS, TEENS, TENS, digit_string, whole

LONGEST = 6
UNITS = "ohms|ohms|ohms|ohms|kilohms|kilohms|k|k|kilo ohms|k ohms|megohms|meg|milliohms|volts|volts|millivolts|amps|milliamps|degrees|degrees c|degrees celsius".split("|")
STATES = "over range|over range|over range|over limit|overload|out of range|open line|open circuit|infinity|o l|unstable|drifting|not stable|jumping".split("|")


def plain_digits(rng, count):
    return [rng.choice(["oh", "zero"]) if d == "zero" else d for d in (rng.choice(DIGITS) for _ in range(count))]


def between(rng, low, high):
    """A number of 10 to 99 in words."""
    n = rng.randint(low, high)
    return [TEENS[n - 10]] if n < 20 else [TENS[n // 10 - 2]] + ([DIGITS[n % 10]] if n % 10 else [])


def bare(rng):
    """A number without unit, and whether a unit may follow."""
    kind = rng.random()
    if kind < 0.42:  # with a point
        before = [] if rng.random() < 0.1 else whole(rng, rng.randrange(rng.choice([1, 10, 10, 10, 100, 1000])))
        after = between(rng, 10, 99) if rng.random() < 0.15 else plain_digits(rng, rng.choice([1, 1, 2, 2, 3]))
        return [*before, rng.choice(["point"] * 18 + ["decimal", "dot"]), *after], True
    if kind < 0.62:  # hundreds and thousands
        words = whole(rng, rng.choice([rng.randint(100, 999), rng.randint(100, 999), rng.randint(1000, 9999)]))
        return words, True
    if kind < 0.74:
        return between(rng, 10, 99), True
    if kind < 0.84:  # digits one by one, not beginning with zero
        return [rng.choice(DIGITS[1:]), *plain_digits(rng, rng.choice([0, 1, 2, 2, 3]))], True
    if kind < 0.90:  # "one twenty", "three oh five"
        tail = between(rng, 10, 99) if rng.random() < 0.5 else [rng.choice(["oh", "zero"]), rng.choice(DIGITS[1:])]
        return [rng.choice(DIGITS[1:]), *tail], True
    if kind < 0.95:  # the prefix in the place of the point
        return [*whole(rng, rng.randint(1, 40)), rng.choice(["k", "k", "meg"]), *plain_digits(rng, rng.choice([1, 1, 2]))], False
    if kind < 0.97:
        return [DIGITS[rng.randint(1, 9)], "and", "a", "half"], True
    return [rng.choice(["double", "double", "triple"]), rng.choice(DIGITS[1:])], True


def readings(rng):
    while True:
        if rng.random() < 0.07:
            return rng.choice(STATES).split()
        words, unit = bare(rng)
        if rng.random() < 0.06:
            words = [rng.choice(["minus", "minus", "negative"]), *words]
        if unit and rng.random() < 0.6:
            words = words + rng.choice(UNITS).split()
        if len(words) <= LONGEST:
            return words


def strings(rng):
    return plain_digits(rng, rng.randint(5, 10))


def drill(rng):
    kind = rng.random()
    if kind < 0.45:
        return plain_digits(rng, 1)
    if kind < 0.55:
        return [rng.choice(TEENS + TENS)]
    return digit_string(rng, rng.choice([2, 2, 3, 3, 4, 4, 5, 7, 10]))
