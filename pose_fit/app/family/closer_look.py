"""Each measured picture by itself: put its marks right, another person, another object, remove it."""

from collections.abc import Sequence

import streamlit as st

from pose_fit.app.inputs.correcting import offer_correcting
from pose_fit.app.inputs.photo_choice import remove_picture
from pose_fit.app.inputs.reference_form import ask_object, ask_points, object_of
from pose_fit.app.inputs.which_child import asks_which_child, point_at_child
from pose_fit.app.measuring import Outcome
from pose_fit.app.session import Fields, said_of
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.messages import plain
from pose_fit.measure import PhotoMeasurement

__all__ = ["show_closer_look"]


def show_closer_look(page: str, outcomes: Sequence[Outcome]) -> None:
    """Everything that a visitor may put right in pictures that were measured."""
    say = in_language(FAMILY)
    measured = [o for o in outcomes if isinstance(o.result, PhotoMeasurement)]
    own = [o.shot for o in measured if said_of(o.shot).known_object is None]
    if own and st.toggle(say.wrong_object, key=Fields(f"{page}.object").key("asked")):
        ask_object(page)
        ask_points(own, object_of(page))
    for outcome in measured:
        shot, result = outcome.shot, outcome.result
        assert isinstance(result, PhotoMeasurement)
        st.markdown(f"**{plain(shot.name)}**")
        offer_correcting(shot, result)
        fields = Fields(f"shot.{shot.key}")
        if asks_which_child(result) and st.toggle(say.other_person, key=fields.key("which")):
            point_at_child(shot, say.point_child)
        st.button(
            say.remove.format(name=plain(shot.name)),
            key=f"remove.{shot.key}",
            on_click=remove_picture,
            args=(page, shot),
        )
