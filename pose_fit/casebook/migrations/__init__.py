"""Schema migrations, run by :mod:`pose_fit.casebook.schema` when a case book is opened."""
