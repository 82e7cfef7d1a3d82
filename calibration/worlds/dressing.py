"""Legwear, top and shoes as meshes around the standing body."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from calibration.scenes.body import SKIN_VERTICES
from calibration.scenes.dress import Piece, Tailor, crotch_drop_mm, folds_mm, marks_of, normals
from calibration.scenes.posing import Posed
from calibration.scenes.scene import Dress
from calibration.worlds.outfits import Outfit
from calibration.worlds.tubes import (
    Cloth,
    Girths,
    Wave,
    girths_of,
    hung,
    trousers,
    tube,
    unit_normals,
)

__all__ = ["Dressed", "dressed"]

_ARMS: Final = ("upperarm", "lowerarm", "wrist", "finger", "metacarpal")


@dataclass(frozen=True, eq=False, slots=True)
class Dressed:
    """The garments, which body vertices they cover, and how low the legwear's crotch hangs."""

    pieces: list[Piece]
    covered: NDArray[np.bool_]
    drop_mm: float | None
    top_hem_y_mm: float


def dressed(outfit: Outfit, dress: Dress, posed: Posed, *, turn_deg: float) -> Dressed:
    """Dress a standing child."""
    rng = np.random.default_rng(outfit.seed)
    tailor = Tailor(posed=posed, marks=marks_of(posed.body), dress=dress, rng=rng)
    maker = _Maker(outfit, dress, posed, tailor, rng, float(np.deg2rad(turn_deg)))
    legwear, drop = maker.legwear()
    pieces = [*legwear, *maker.top()]
    if dress.footwear != "bare":
        pieces.append(tailor.socks())
    if dress.footwear == "shoes":
        pieces.append(maker.shoes())
    return Dressed(pieces, maker.covered(), drop, maker.top_hem_y_mm)


@dataclass(frozen=True, slots=True)
class _Maker:
    outfit: Outfit
    dress: Dress
    posed: Posed
    tailor: Tailor
    rng: Generator
    turn_rad: float

    @property
    def into_own(self) -> NDArray[np.float64]:
        """Wall axes to the child's own: rows times this."""
        c, s = np.cos(self.turn_rad), np.sin(self.turn_rad)
        return np.array([[c, 0, -s], [0, 1, 0], [s, 0, c]])

    @property
    def own_mm(self) -> NDArray[np.float64]:
        """The posed skin in the child's own frame."""
        own: NDArray[np.float64] = self.posed.vertices_mm[:SKIN_VERTICES] @ self.into_own
        return own

    def is_arm(self) -> NDArray[np.bool_]:
        own: NDArray[np.bool_] = self.tailor.weight(*_ARMS)[:SKIN_VERTICES] > 0.3
        return own

    @property
    def crotch_mm(self) -> NDArray[np.float64]:
        own: NDArray[np.float64] = self.own_mm[self.posed.body.crotch_vertex]
        return own

    def joint_y(self, bone: str) -> float:
        return float(self.posed.joint_mm(bone)[1])

    def leg_y(self, fraction: float, mark: str = "L") -> float:
        """Height of a part of the leg in the stance."""
        levels = [
            float(self.crotch_mm[1]),
            self.joint_y(f"lowerleg01.{mark}"),
            self.joint_y(f"foot.{mark}"),
            -self.dress.soles_mm,
        ]
        return float(np.interp(fraction, [0, 1, 2, 3], levels))

    @property
    def waist_y(self) -> float:
        crotch = float(self.crotch_mm[1])
        return crotch - 0.95 * (crotch - self.joint_y("spine03"))

    @property
    def top_hem_y_mm(self) -> float:
        return float(self.crotch_mm[1]) + self.outfit.top_hem_mm

    def legwear(self) -> tuple[list[Piece], float | None]:
        outfit = self.outfit
        if outfit.style == "suit":
            piece = self.tailor.legwear()
            return [replace(piece, surface=self.print_or(piece.surface))], crotch_drop_mm(
                [piece], self.posed
            )
        if outfit.wear in ("skirt", "dress"):
            return [*self.underneath(), self.skirt()], None
        if outfit.style == "painted":
            piece = self.painted()
            return [piece], crotch_drop_mm([piece], self.posed)
        return self.sewn()

    def print_or(self, surface: str) -> str:
        return surface if self.outfit.print_kind == "none" else self.outfit.print_kind

    def underneath(self) -> list[Piece]:
        """Short pants under a skirt, so that nothing bare is drawn."""
        y, marks = self.posed.body.vertices_mm[:, 1], self.tailor.marks
        hem = marks.leg_at_mm(0.12)
        return [self.on_skin(y > marks.waist_y_mm, y < hem, 1.0, "plain")]

    def painted(self) -> Piece:
        """Leggings: the skin itself, a fabric's thickness off."""
        y, marks = self.posed.body.vertices_mm[:, 1], self.tailor.marks
        hem = marks.leg_at_mm(self.outfit.hem_fraction)
        return self.on_skin(
            y > marks.waist_y_mm, y < hem, self.outfit.ease_mm, self.print_or("plain")
        )

    def on_skin(
        self, below: NDArray[np.bool_], above: NDArray[np.bool_], ease_mm: float, surface: str
    ) -> Piece:
        body = self.posed.body
        region = below & above & (self.tailor.weight(*_ARMS) < 0.3)
        rest = body.vertices_mm + normals(body) * ease_mm
        rest += normals(body) * folds_mm(rest, self.rng, amplitude_mm=self.outfit.fold_mm)[:, None]
        faces = [f for f in body.parts.faces["skin"] if all(region[corner] for corner in f)]
        vertices = np.unique([corner for face in faces for corner in face])
        place = {int(vertex): row for row, vertex in enumerate(vertices)}
        return Piece(
            name="legwear",
            points_mm=self.posed.carry(rest[vertices], vertices),
            faces=[[place[corner] for corner in face] for face in faces],
            vertices=vertices,
            rgb=np.tile(self.dress.leg_rgb, (len(vertices), 1)),
            surface=surface,
            second_rgb=self.outfit.print_rgb,
        )

    def pelvis(self, ease: float, hem_y: float, pull_in: float) -> Girths:
        crotch_y = float(self.crotch_mm[1])
        y = np.arange(self.joint_y("spine01"), hem_y + 30, 6.0)
        points = self.own_mm[~self.is_arm()]
        return hung(
            girths_of(points, y),
            ease_mm=np.full(len(y), ease),
            pull_in=pull_in,
            from_y_mm=crotch_y - 160,
        )

    def legs(self) -> tuple[Girths, Girths]:
        outfit, skin = self.outfit, self.own_mm
        body = self.posed.body
        crotch_y = float(self.crotch_mm[1])
        found = []
        for mark in ("L", "R"):
            bones = ("upperleg01", "upperleg02", "lowerleg", "foot")
            weight = self.tailor.weight(*(f"{b}.{mark}" for b in bones[:2]), f"lowerleg01.{mark}")
            weight += self.tailor.weight(f"lowerleg02.{mark}", f"foot.{mark}")
            rest_x = body.vertices_mm[:SKIN_VERTICES, 0]
            own = (weight[:SKIN_VERTICES] > 0.5) & ((rest_x > 0) == (mark == "L"))
            hem_y = self.leg_y(outfit.hem_fraction, mark)
            # Below the ankle the foot is no guide to the trouser leg.
            low = min(hem_y + 20, self.joint_y(f"foot.{mark}") - 5)
            y = np.arange(crotch_y + 16, low, 6.0)
            share = np.clip((y - crotch_y) / max(hem_y - crotch_y, 1), 0, 1)
            ease = outfit.ease_mm + outfit.flare_mm * share
            straight = 0.0 if outfit.flare_mm > 8 else 0.12
            found.append(
                hung(
                    girths_of(skin[own], y), ease_mm=ease, pull_in=straight, from_y_mm=crotch_y + 30
                )
            )
        return found[0], found[1]

    def wave(self, amplitude_mm: float, stack_mm: float):  # type: ignore[no-untyped-def]
        """Folds: long ones down the cloth, rings stacked above the shoe."""
        outfit = self.outfit
        phases = self.rng.uniform(0, 2 * np.pi, 8)
        counts = self.rng.integers(1, 5, 8)
        lengths = self.rng.uniform(60, 260, 8)
        hem_y = self.leg_y(outfit.hem_fraction)

        def out(y: NDArray[np.float64], angle: NDArray[np.float64]) -> NDArray[np.float64]:
            total = np.zeros(len(y))
            for phase, count, length in zip(phases, counts, lengths, strict=True):
                total += np.sin(2 * np.pi * y / length + count * angle + phase)
            rings = np.sin(2 * np.pi * y / 34 + 1.5 * np.sin(angle + phases[0]))
            low = np.clip(1 - (hem_y - np.where(y > 2000, y - 5000, y)) / 160, 0, 1)
            folds: NDArray[np.float64] = amplitude_mm * total / 2.8 + stack_mm * rings * low
            return folds

        return out

    def sewn(self) -> tuple[list[Piece], float]:
        outfit = self.outfit
        crotch_y = float(self.crotch_mm[1])
        hems = tuple(self.leg_y(outfit.hem_fraction, mark) for mark in ("L", "R"))
        # The seat is cut closer than the legs.
        pelvis = self.pelvis(min(outfit.ease_mm, 10.0) + 2, crotch_y + 60, 0.35)
        fork_y = crotch_y - 0.16 * (crotch_y - self.waist_y) - 12
        cloth = trousers(
            pelvis,
            self.legs(),
            waist_y_mm=self.waist_y,
            fork_y_mm=fork_y,
            crotch_mm=self.crotch_mm,
            drop_mm=outfit.drop_mm,
            hems_y_mm=(hems[0], hems[1]),
            wave=self.wave(outfit.fold_mm, outfit.stack_mm),
        )
        points = cloth.points_mm
        if outfit.style == "draped":
            points = self.fallen(cloth)
        drop = float(points[cloth.crotch, 1].max() - crotch_y)
        return [self.piece("legwear", cloth, points, self.print_or(self.dress.leg_weave))], drop

    def fallen(self, cloth: Cloth) -> NDArray[np.float64]:
        from calibration.worlds.drape import fall

        faces = self.posed.body.parts.faces["skin"]
        arm = self.is_arm()
        body_faces = [face for face in faces if not any(arm[corner] for corner in face)]
        return fall(
            cloth,
            body_mm=self.own_mm,
            body_faces=body_faces,
            stiffness=1.0 if self.outfit.wear == "joggers" else 2.5,
            shrink=0.0,
        )

    def skirt(self) -> Piece:
        """A skirt from the waist, or a dress from the chest, with folds that open downwards."""
        outfit = self.outfit
        crotch_y = float(self.crotch_mm[1])
        hem_y = self.leg_y(outfit.hem_fraction)
        is_dress = outfit.wear == "dress"
        top_y = self.chest_y if is_dress else self.waist_y
        girths = self.pelvis(outfit.ease_mm, hem_y, -outfit.flare_mm / 300.0)
        count, phase = int(self.rng.integers(5, 11)), float(self.rng.uniform(0, 6))
        fall_mm = max(hem_y - crotch_y + 100, 1)

        def wave(y: NDArray[np.float64], angle: NDArray[np.float64]) -> NDArray[np.float64]:
            open_ = np.clip((y - crotch_y + 100) / fall_mm, 0, 1) ** 1.3
            folds: NDArray[np.float64] = (
                outfit.fold_mm * 2.5 * open_ * np.sin(count * angle + phase + 0.6 * np.sin(y / 90))
            )
            return folds

        cloth = tube(girths, top_y_mm=top_y, hem_y_mm=hem_y, wave=wave)
        points = self.fallen(cloth) if outfit.style == "draped" else cloth.points_mm
        return self.piece("cover", cloth, points, self.print_or("plain"))

    @property
    def chest_y(self) -> float:
        """Just below the armpits."""
        shoulder, waist = self.joint_y("upperarm01.L"), self.joint_y("spine03")
        return shoulder + 0.42 * (waist - shoulder)

    def top(self) -> list[Piece]:
        """A fitted top of the body suit, or its upper part and a tube that hangs straight."""
        outfit, dress = self.outfit, self.dress
        if not outfit.boxy and outfit.style in ("sewn", "draped") and outfit.wear != "dress":
            return [replace(self.tucked().top(), surface=self.top_surface)]
        if not outfit.boxy:
            return [replace(self.tailor.top(), surface=self.top_surface)]
        above_mm = float(self.crotch_mm[1]) - self.chest_y - 12
        upper = replace(dress, top_above_crotch_mm=above_mm)
        tailor = replace(self.tailor, dress=upper)
        ease = dress.top_ease_mm + 6
        girths = self.pelvis(ease, max(self.top_hem_y_mm, self.waist_y + 40), 0.03)
        falls = hung(
            Girths(girths.y_mm, girths.centres_mm, girths.radii_mm),
            ease_mm=np.zeros(len(girths.y_mm)),
            pull_in=0.04,
            from_y_mm=self.chest_y,
        )
        cloth = tube(
            falls,
            top_y_mm=self.chest_y,
            hem_y_mm=self.top_hem_y_mm,
            wave=self.top_wave(),
        )
        tube_piece = self.piece("top_tube", cloth, cloth.points_mm, self.top_surface)
        rgb = np.tile(dress.top_rgb, (len(cloth.points_mm), 1)) * cloth.shade[:, None]
        tube_piece = replace(tube_piece, rgb=rgb, second_rgb=dress.top_second_rgb)
        return [replace(tailor.top(), surface=self.top_surface), tube_piece]

    def tucked(self) -> Tailor:
        """A tailor whose top ends inside the waistband."""
        rest_crotch, rest_waist = self.tailor.marks.crotch_y_mm, self.tailor.marks.waist_y_mm
        above_mm = 0.95 * (rest_crotch - rest_waist) - 14
        thin = replace(self.dress, top_ease_mm=2.0, leg_ease_mm=-4.0, top_above_crotch_mm=above_mm)
        return replace(self.tailor, dress=thin)

    @property
    def top_surface(self) -> str:
        return self.outfit.top_print

    def top_wave(self) -> Wave:
        """Folds that deepen towards the hem, by height and angle about the body."""
        count, phase = int(self.rng.integers(3, 8)), float(self.rng.uniform(0, 6))
        start, end = self.chest_y, self.top_hem_y_mm

        def wave(y: NDArray[np.float64], angle: NDArray[np.float64]) -> NDArray[np.float64]:
            low = np.clip((y - start) / max(end - start, 1), 0, 1)
            folds: NDArray[np.float64] = 4.0 * low * np.sin(count * angle + phase)
            return folds

        return wave

    def piece(self, name: str, cloth: Cloth, points_mm: NDArray[np.float64], surface: str) -> Piece:
        """Cloth in the wall frame."""
        if surface in ("denim", "plain") and name == "legwear":
            out = unit_normals(points_mm, cloth.faces)
            bump = folds_mm(points_mm, self.rng, amplitude_mm=0.6 * self.outfit.fold_mm)
            points_mm = points_mm + out * bump[:, None] * ~cloth.is_pinned[:, None]
        return Piece(
            name=name,
            points_mm=points_mm @ self.into_own.T,
            faces=cloth.faces,
            vertices=np.zeros(len(points_mm), np.int64),
            rgb=np.tile(self.dress.leg_rgb, (len(points_mm), 1)) * cloth.shade[:, None],
            surface=surface,
            second_rgb=self.outfit.print_rgb,
        )

    def shoes(self) -> Piece:
        """Shoes as long as real ones: a growing allowance before the toes."""
        shoe = self.tailor.shoes()
        points = shoe.points_mm.copy()
        rest = self.posed.body.vertices_mm[shoe.vertices]
        for mark, sign in (("L", 1.0), ("R", -1.0)):
            own = sign * rest[:, 0] > 0
            forward = self.foot_forward(mark)
            along = points[own] @ forward
            back, front = along.min(), along.max()
            share = (along - back) / (front - back)
            # The toe box takes the allowance; it starts at the ball of the foot.
            grow = np.clip((share - 0.45) / 0.55, 0, 1) * self.outfit.shoe_longer_mm
            points[own] += grow[:, None] * forward
        return replace(shoe, points_mm=points)

    def foot_forward(self, mark: str) -> NDArray[np.float64]:
        toe, ankle = self.posed.joint_mm(f"toe3-1.{mark}"), self.posed.joint_mm(f"foot.{mark}")
        way = np.array([toe[0] - ankle[0], 0.0, toe[2] - ankle[2]])
        forward: NDArray[np.float64] = way / np.linalg.norm(way)
        return forward

    def covered(self) -> NDArray[np.bool_]:
        """Skin well inside cloth, left out because it would poke through."""
        outfit, marks = self.outfit, self.tailor.marks
        covered = self.tailor.covered()
        if outfit.style == "suit":
            return covered
        y = self.posed.body.vertices_mm[:, 1]
        arm = self.tailor.weight(*_ARMS)
        legs = (y > marks.waist_y_mm) & (arm < 0.3)
        torso = (y > marks.collar_y_mm + 55) & (y < marks.crotch_y_mm) & (arm < 0.3)
        hem = marks.leg_at_mm(outfit.hem_fraction)
        if outfit.wear in ("skirt", "dress"):
            hem = marks.leg_at_mm(0.05)
        past, _ = self.tailor.past_cuff()
        covered = torso | (legs & (y < hem - 20)) | ((arm > 0.3) & (past < -15))
        if self.dress.footwear != "bare":
            covered |= y > marks.ankle_y_mm - 0.9 * marks.ankle_height_mm
        return covered
