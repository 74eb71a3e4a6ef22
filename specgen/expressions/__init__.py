"""Expressions over a system: what declared rules, wishes and values of a project are written in.

Expressions are Python's, cut down to this:

- Numbers `8`, `0.5`; texts in quotes; `True`, `False`, `None`. A text beside a quantity is a
  quantity: `it.tdp > "270 W"`, `inlet + "5 K" <= "35 degC"`.
- `and`, `or`, `not`; `==`, `!=`, `<`, `<=`, `>`, `>=`, also in chains; `in` and `not in` with
  constants in brackets, or with a list: `5 in c.raid`. `+`, `-`, `*` and `/` on amounts; the
  right side of `/` is a number, or an amount of the same kind: `it.mass / "1 kg"`.
- Collections of working parts, the plural of each kind: `drives`, `fans`, `memory_modules`,
  `power_supplies`; `parts` is all of them. `drives.count` is how many.
- Runs: `count(d for d in drives if d.swap == "hot")`, and `sum`, `min`, `max`, `any`, `all` with
  a value: `sum(a.power.maximum for a in accelerators)`. A run may go over a list of a part:
  `max(o.output for o in s.outputs)`. What is absent is left out; `min` and `max` of nothing are
  absent, a `sum` is nothing.
- Positions: `filled("PSU 2")`, `empty("SLOT 3")` (no working part), `usable("SLOT 3")`; of a range
  (`"BAY 0..3"`) each one. `part("CPU1")` is the working part there, `has("part-id")` whether
  a part works anywhere.
- Fields of parts as they are declared: `it.power.maximum`, `d.attributes["set"]`; and `position`,
  `kind`, `soldered`. A field named like a word of Python has a line after it: `from_`.
- Circumstances by name: `line`, `inlet`, `altitude`, `redundancy` and the others of
  `conditions`. Facts: `fact("power.maximum")`. The platform: `platform.id`, `platform.rack_units`.

What is absent (a field not declared, the part of an empty position) never compares: every
comparison beside it is False, `!=` and `not in` too. `x == None` asks for it.

Everything is typed before anything is evaluated: an unknown name, field or word, a wrong
dimension, things that do not go together are findings at the piece of text at fault. A condition
has up to 1000 characters, and takes a bounded number of steps on a system.
"""
