"""The staff's case book: estimates sent in, what was decided, who did what and when.

Start at :class:`pose_fit.casebook.book.CaseBook`.
"""
