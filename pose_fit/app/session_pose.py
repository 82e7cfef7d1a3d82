"""The pose model: loaded once a process, each photo looked at once a session."""

import streamlit as st

from pose_fit.app.session import BodyOnce, remembered
from pose_fit.body.body import PoseModel

__all__ = ["session_pose"]


@st.cache_resource(show_spinner=False)
def _shared_pose() -> PoseModel:
    from pose_fit.body.mediapipe_pose import pose_model

    return pose_model()


def session_pose() -> BodyOnce:
    """The pose model of this session."""
    return remembered("pose", lambda: BodyOnce(_shared_pose()))
