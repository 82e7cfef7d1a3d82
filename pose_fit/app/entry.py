"""The script that Streamlit runs."""

from pose_fit.app.site import run

run()
