# How this language writes numbers, lists and quantities. The decimal mark is CLDR's for the language.

decimal-mark = ,

# Joining a list: all but the last pair, then the last.
list-more = { $first }, { $second }
list-last = { $first } und { $second }

# Quantities, written.
ohms = { $it } Ω
volts = { $it } V
amperes = { $it } A
celsius = { $it } °C
kelvin = { $it } K
interval = { $low } bis { $high }

# What a display shows: number, prefix and unit.
shown = { $number } { $prefix }{ $unit }
prefix-milli = m
prefix-one = { "" }
prefix-kilo = k
prefix-mega = M
unit-ohm = Ω
unit-volt = V
unit-ampere = A
unit-celsius = °C

# A reading, written.
reading-value = { $it }
reading-over-range = Überlauf
reading-unstable = { $low ->
    [none] unruhig
   *[other] unruhig, { $low } bis { $high }
}
reading-not-taken = nicht gemessen
