"""The parametric body as plain arrays: the only module that knows the body model.

The model's mesh carries, beside the skin, a body suit, a skirt and a hair cap that
follow every shape and pose; they are what clothes are made from. Everything leaves here
in the body's own frame: millimetres, x to the child's left, y down, z to the back, so
that a child facing the camera needs no turn to stand in the wall frame.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.scene import Person

__all__ = ["CROTCH_VERTICES", "SKIN_VERTICES", "Body", "Parts", "body_of", "parts"]

#: The skin's vertices come first in the model's mesh.
SKIN_VERTICES: Final = 13380
#: Midline vertices between the legs, front to back, found as the lowest midline vertices
#: of rest bodies of all ages and both sexes.
CROTCH_VERTICES: Final = (4370, 4372, 6431, 4374, 4376)

_LOCAL_CHANGES: Final = (
    "upperlegs-height-incr",
    "lowerlegs-height-incr",
    "hip-scale-vert-incr",
    "hip-trans-up",
    "l-leg-valgus-incr",
    "r-leg-valgus-incr",
    "measure-thigh-circ-incr",
    "measure-calf-circ-incr",
    "l-foot-scale-depth-incr",
    "r-foot-scale-depth-incr",
)


@dataclass(frozen=True, eq=False, slots=True)
class Parts:
    """What does not depend on the person: topology and skinning.

    ``faces`` maps ``skin``, ``eyes``, ``suit``, ``skirt`` and ``hair`` to lists of
    vertex indices; ``weights`` is (V, B), each row summing to one.
    """

    faces: dict[str, list[list[int]]]
    bone_names: tuple[str, ...]
    bone_parents: tuple[int, ...]
    weights: NDArray[np.float64]

    def bones_weight(self, *beginnings: str) -> NDArray[np.float64]:
        """Share of each vertex carried by bones whose names begin so, (V,)."""
        chosen = [name.startswith(beginnings) for name in self.bone_names]
        total: NDArray[np.float64] = self.weights[:, chosen].sum(axis=1)
        return total


@dataclass(frozen=True, eq=False, slots=True)
class Body:
    """One person's rest shape: (V, 3) vertices and (B, 3) joint centres."""

    vertices_mm: NDArray[np.float64]
    joints_mm: NDArray[np.float64]
    parts: Parts

    def joint_mm(self, name: str) -> NDArray[np.float64]:
        """Centre of the joint at the head of a bone, (3,)."""
        joint: NDArray[np.float64] = self.joints_mm[self.parts.bone_names.index(name)]
        return joint

    @property
    def skin_count(self) -> int:
        """How many of the vertices, from the first, are skin."""
        return SKIN_VERTICES

    @property
    def crotch_vertex(self) -> int:
        """The lowest midline vertex of the rest shape between the legs."""
        heights = self.vertices_mm[list(CROTCH_VERTICES), 1]
        return CROTCH_VERTICES[int(np.argmax(heights))]


def body_of(person: Person) -> Body:
    """The rest shape of a person."""
    import torch

    model, ages = _model()
    age = ages.morphological_age_mapping.morphological_to_anny_age(
        torch.tensor([person.age_years], dtype=torch.float64)
    )
    statures = (
        ages.girls_conditional_height_distribution
        if person.sex == "f"
        else ages.boys_conditional_height_distribution
    ).get_torch_distribution(age)
    height = float(statures.mean + person.stature_z * statures.stddev)
    phenotype = {
        "age": float(age),
        "gender": person.femininity,
        "height": min(max(height, 0.0), 1.0),
        "muscle": person.muscle,
        "weight": person.weight,
        "proportions": person.proportions,
        "african": person.ancestry[0],
        "asian": person.ancestry[1],
        "caucasian": person.ancestry[2],
    }
    local = dict(
        zip(
            _LOCAL_CHANGES,
            (
                person.upper_leg,
                person.lower_leg,
                person.crotch_height,
                person.hip_height,
                person.valgus,
                person.valgus,
                person.thigh_girth,
                person.calf_girth,
                person.foot_length,
                person.foot_length,
            ),
            strict=True,
        )
    )
    rest = model(phenotype_kwargs=phenotype, local_changes_kwargs=local)
    return Body(
        vertices_mm=_body_frame(rest["rest_vertices"][0].numpy()),
        joints_mm=_body_frame(rest["rest_bone_heads"][0].numpy()),
        parts=parts(),
    )


@cache
def parts() -> Parts:
    """Topology and skinning of the model."""
    model, _ = _model()
    weights = np.zeros((len(model.template_vertices), len(model.bone_labels)))
    rows = np.arange(len(weights))[:, None]
    np.add.at(weights, (rows, model.vertex_bone_indices.numpy()), model.vertex_bone_weights.numpy())
    groups = _helper_faces()
    faces = model.faces.numpy()
    is_skin = (faces < SKIN_VERTICES).all(axis=1)
    eye_range = (faces >= 14598) & (faces <= 14741)
    return Parts(
        faces={
            "skin": faces[is_skin].tolist(),
            "eyes": faces[eye_range.all(axis=1)].tolist(),
            "suit": groups["helper-tights"],
            "skirt": groups["helper-skirt"],
            "hair": groups["helper-hair"],
        },
        bone_names=tuple(model.bone_labels),
        bone_parents=tuple(int(parent) for parent in model.bone_parents),
        weights=weights,
    )


@cache
def _model() -> tuple[Any, Any]:
    import anny
    from anny.shape_distribution import SimpleShapeDistribution

    model = anny.Anny(
        rig="makehuman",
        topology="makehuman",
        local_changes=list(_LOCAL_CHANGES),
        phenotypes="all",
        skinning_method="lbs",
    )
    return model, SimpleShapeDistribution(model)


def _helper_faces() -> dict[str, list[list[int]]]:
    """Faces of the body suit, skirt and hair, which the model keeps in its mesh file only."""
    import anny

    mesh = Path(anny.__file__).parent / "data" / "mpfb2" / "3dobjs" / "base.obj"
    groups: dict[str, list[list[int]]] = {}
    group = ""
    for line in mesh.read_text(encoding="utf-8").splitlines():
        if line.startswith("g "):
            group = line.split()[1]
        elif line.startswith("f "):
            corners = [int(corner.split("/")[0]) - 1 for corner in line.split()[1:]]
            groups.setdefault(group, []).append(corners)
    return groups


def _body_frame(points_m: NDArray[np.float64]) -> NDArray[np.float64]:
    """From the model's metres, x left, y back, z up."""
    turned_m = np.stack([points_m[:, 0], -points_m[:, 2], points_m[:, 1]], axis=1)
    return np.asarray(1000.0 * turned_m)
