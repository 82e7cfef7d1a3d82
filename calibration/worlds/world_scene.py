"""What is drawn of one photo of a world."""

from dataclasses import dataclass
from typing import Literal

from calibration.scenes.body import Body
from calibration.scenes.scene import Scene
from calibration.worlds.bodies import Stock
from calibration.worlds.outfits import Outfit
from calibration.worlds.people import Proportions
from calibration.worlds.rooms import Clutter
from calibration.worlds.stances import StanceGroup

__all__ = ["StockName", "WorldScene"]

#: Baked bodies: shapes to be stretched to measured children, or children to be left as they are.
StockName = Literal["shapes", "plain_shapes"]


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
    stock: StockName = "shapes"

    @property
    def name(self) -> str:
        """File name without its ending."""
        return self.scene.name

    def body(self, stock: Stock) -> Body:
        """The child's own body out of the stock of its world."""
        if self.stock == "plain_shapes":
            return stock.body(self.shape_pick)
        return stock.body_like(self.proportions, pick=self.shape_pick)
