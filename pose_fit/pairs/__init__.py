"""Photo against tape: what a shop's own pairs say of the tool, and what they correct.

Start at :class:`pose_fit.pairs.pair.Pair`.
"""
