"""Thin entry for ``streamlit run app.py``; the pages live in the package."""

from pose_fit.app.site import run

run()
