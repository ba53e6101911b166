# Words of the trade that voice, screen, page, sheet, card and terminal share: what a circuit came to, where it was
# measured, how it was probed. One table for each.

# What the readings of a circuit amount to. Never words of approval: a reading inside its limits proves no function.
class-within = in
class-within-doubtful = in, close to the limit
class-outside-doubtful = out, close to the limit
class-outside = out
class-unlike-peers = unlike the others
class-like-peers = like the others
class-over-range-unchecked = over range
class-open = open
class-shorted = shorted
class-unstable = unstable
class-leakage = leakage to case
class-not-judged = noted
class-not-taken = not taken

# The same in two or three short words, for the drawing of the pins.
brief-class = { $it-is ->
    [within-doubtful] in, near limit
    [outside-doubtful] out, near limit
    [like-peers] alike
    [unlike-peers] unlike others
    [leakage] leakage
   *[other] { $it }
}

# The same in one or two words that can be written large. Doubt is kept in them.
large-class = { $it-is ->
    [within] IN
    [within-doubtful] IN ?
    [outside-doubtful] OUT ?
    [outside] OUT
    [unlike-peers] UNLIKE
    [like-peers] LIKE
    [over-range-unchecked] OVER
    [open] OPEN
    [shorted] SHORT
    [unstable] MOVES
    [leakage] LEAKS
    [not-judged] NOTED
   *[not-taken] LEFT OUT
}

# Where a circuit is measured.
station-component = at the part
station-harness = through the harness
station-case = to case

# The same for a narrow column.
brief-station = { $it-is ->
    [harness] harness
    [case] case
   *[component] part
}

# How a terminal was touched.
contact-usual = probed as usual
contact-cleaned = terminal cleaned
contact-wiggled = wire moved while reading

# What was done about the leads.
leads-shown = { $it } with the probes together, taken off every reading
leads-relative = taken off by the meter's relative mode
leads-unknown = not measured: carried as unknown
