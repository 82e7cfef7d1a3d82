"""What is drawn of one photo of a world."""

from dataclasses import dataclass

from calibration.scenes.scene import Scene
from calibration.worlds.outfits import Outfit
from calibration.worlds.people import Proportions
from calibration.worlds.rooms import Clutter
from calibration.worlds.stances import StanceGroup

__all__ = ["WorldScene"]


@dataclass(frozen=True, slots=True)
class WorldScene:
    """One photo of a world: the bench's scene, and what only worlds have.

    ``dressed_as`` names the world whose way of dressing this is: the own one, but for a mixed
    world's children.
    """

    world: str
    dressed_as: str
    scene: Scene
    proportions: Proportions
    shape_pick: int
    stance_group: StanceGroup
    seat_at_wall: bool
    outfit: Outfit
    clutter: Clutter
    has_reference: bool

    @property
    def name(self) -> str:
        """File name without its ending."""
        return self.scene.name
