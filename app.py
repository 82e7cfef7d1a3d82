"""Thin entry for ``streamlit run app.py``; server and pages live in the package."""

from streamlit.starlette import App

from pose_fit.app.serve import ENTRY
from pose_fit.app.server import MIDDLEWARE, ROUTES, running

# Streamlit looks for this call in the script it is told to run.
app = App(ENTRY, middleware=MIDDLEWARE, routes=ROUTES, lifespan=running)
