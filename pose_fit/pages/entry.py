"""The script that Streamlit runs."""

from pose_fit.pages.app import run

run()
