"""Blender materials of the scene: procedural, each from a name and its colours."""

from typing import Any, Final

import bpy

from calibration.scenes.scene import Rgb

__all__ = ["image_material", "piece_material", "plain_material", "surface_material"]

_ROUGHNESS: Final = {"skin": 0.55, "eye": 0.1, "hair": 0.6, "shoe": 0.45}


class _Nodes:
    """A new material's node tree, with short hands for the nodes used here."""

    def __init__(self, name: str, *, roughness: float = 0.8) -> None:
        self.material = bpy.data.materials.new(name)
        self.material.use_nodes = True
        self.tree = self.material.node_tree
        self.shader = self.tree.nodes["Principled BSDF"]
        self.shader.inputs["Roughness"].default_value = roughness
        self.shader.inputs["Specular IOR Level"].default_value = 0.3

    def node(self, kind: str, **inputs: Any) -> Any:
        node = self.tree.nodes.new(kind)
        for name, value in inputs.items():
            node.inputs[name.replace("_", " ")].default_value = value
        return node

    def link(self, source: Any, target: Any) -> None:
        self.tree.links.new(source, target)

    def place(self, scale: tuple[float, float, float] = (1, 1, 1)) -> Any:
        """World coordinates in metres, scaled."""
        geometry = self.node("ShaderNodeNewGeometry")
        mapping = self.node("ShaderNodeMapping", Scale=scale)
        self.link(geometry.outputs["Position"], mapping.inputs["Vector"])
        return mapping.outputs["Vector"]

    def mix(self, factor: Any, first: Any, second: Any, *, blend: str = "MIX") -> Any:
        mix = self.tree.nodes.new("ShaderNodeMixRGB")
        mix.blend_type = blend
        for socket, value in zip(mix.inputs, (factor, first, second), strict=True):
            if hasattr(value, "is_linked"):
                self.link(value, socket)
            else:
                socket.default_value = value
        return mix.outputs[0]

    def noise(self, vector: Any, *, scale: float, detail: float = 3.0) -> Any:
        noise = self.node("ShaderNodeTexNoise", Scale=scale, Detail=detail)
        self.link(vector, noise.inputs["Vector"])
        return noise.outputs["Fac"]

    def speckle(self, colour: Any, vector: Any, *, scale: float, amount: float) -> Any:
        """The colour, darkened unevenly."""
        ramp = self.node("ShaderNodeMapRange", From_Min=0.3, From_Max=0.7, To_Min=1 - amount)
        self.link(self.noise(vector, scale=scale), ramp.inputs["Value"])
        return self.mix(1.0, colour, ramp.outputs["Result"], blend="MULTIPLY")

    def bump(self, height: Any, *, strength: float, distance: float) -> None:
        bump = self.node("ShaderNodeBump", Strength=strength, Distance=distance)
        self.link(height, bump.inputs["Height"])
        self.link(bump.outputs["Normal"], self.shader.inputs["Normal"])

    def done(self, colour: Any) -> Any:
        base = self.shader.inputs["Base Color"]
        if hasattr(colour, "is_linked"):
            self.link(colour, base)
        else:
            base.default_value = colour
        return self.material


def _rgba(rgb: Rgb) -> tuple[float, float, float, float]:
    return (*rgb, 1.0)


def plain_material(name: str, rgb: Rgb, *, roughness: float = 0.5, metallic: float = 0.0) -> Any:
    """One colour all over."""
    nodes = _Nodes(name, roughness=roughness)
    nodes.shader.inputs["Metallic"].default_value = metallic
    return nodes.done(_rgba(rgb))


def image_material(name: str, image: Any) -> Any:
    """A picture on the mesh's own UV map, matt as paper."""
    nodes = _Nodes(name, roughness=0.9)
    texture = nodes.node("ShaderNodeTexImage")
    texture.image = image
    texture.interpolation = "Linear"
    texture.extension = "EXTEND"
    return nodes.done(
        nodes.mix(1.0, texture.outputs["Color"], (0.8, 0.8, 0.79, 1), blend="MULTIPLY")
    )


def piece_material(surface: str, second_rgb: Rgb) -> Any:
    """Skin, hair or cloth over the mesh's own colours (attribute ``rgb``)."""
    nodes = _Nodes(surface, roughness=_ROUGHNESS.get(surface, 0.85))
    attribute = nodes.node("ShaderNodeVertexColor")
    attribute.layer_name = "rgb"
    colour = attribute.outputs["Color"]
    if surface in ("eye", "shoe"):
        return nodes.done(colour)
    if surface == "skin":
        nodes.shader.inputs["Subsurface Weight"].default_value = 0.0
        return nodes.done(nodes.speckle(colour, nodes.place(), scale=60, amount=0.08))
    if surface == "hair":
        strands = nodes.noise(nodes.place((1, 1, 0.15)), scale=220)
        nodes.bump(strands, strength=0.7, distance=0.004)
        return nodes.done(nodes.speckle(colour, nodes.place((1, 1, 0.2)), scale=90, amount=0.5))
    if surface == "thing":
        return nodes.done(nodes.speckle(colour, nodes.place((1, 1, 0.3)), scale=14, amount=0.12))
    if surface in _PRINTS:
        colour = _printed(nodes, surface, colour, second_rgb)
    elif surface == "stripes":
        colour = _bands(nodes, colour, second_rgb, axes=(0, 0, 1))
    elif surface == "checks":
        colour = _bands(nodes, colour, second_rgb, axes=(0, 0, 1))
        colour = _bands(nodes, colour, second_rgb, axes=(1, 0, 0))
    elif surface == "denim":
        colour = nodes.speckle(colour, nodes.place((1, 1, 0.3)), scale=700, amount=0.35)
        colour = nodes.speckle(colour, nodes.place(), scale=12, amount=0.3)
    nodes.bump(nodes.noise(nodes.place(), scale=22, detail=2), strength=0.35, distance=0.012)
    return nodes.done(nodes.speckle(colour, nodes.place(), scale=400, amount=0.12))


#: Prints by the kind of cells, their number a metre, and how much of a cell is printed.
_PRINTS: Final = {
    "dots": ("F1", 38.0, 0.30),
    "flowers": ("F1", 22.0, 0.42),
    "tropic": ("SMOOTH_F1", 11.0, 0.45),
    "badge": ("F1", 6.0, 0.33),
    "galaxy": ("noise", 9.0, 0.52),
    "camouflage": ("noise", 14.0, 0.50),
    "heather": ("noise", 260.0, 0.50),
    "zigzag": ("bands", 0.0, 0.0),
    "stripes_down": ("bands", 0.0, 0.0),
    "cord": ("bands", 0.0, 0.0),
    "tartan": ("bands", 0.0, 0.0),
}


def _printed(nodes: _Nodes, surface: str, colour: Any, second_rgb: Rgb) -> Any:
    """Cloth with a print in a second colour."""
    kind, scale, share = _PRINTS[surface]
    if surface == "tartan":
        for axes in ((0, 0, 1.4), (1.4, 0, 0)):
            colour = nodes.mix(0.5, colour, _bands(nodes, colour, second_rgb, axes=axes))
        return _bands(nodes, colour, (0.02, 0.02, 0.02), axes=(0, 0, 3.1))
    if surface == "cord":
        return nodes.mix(0.35, colour, _bands(nodes, colour, (0.01, 0.01, 0.01), axes=(26, 0, 0)))
    if kind == "bands":
        across = (2.2, 0, 1.6) if surface == "zigzag" else (3.0, 0, 0)
        return _bands(nodes, colour, second_rgb, axes=across)
    vector = nodes.place()
    if kind == "noise":
        value = nodes.noise(vector, scale=scale, detail=2)
        compare = "GREATER_THAN"
    else:
        cells = nodes.node("ShaderNodeTexVoronoi", Scale=scale)
        cells.feature = kind
        nodes.link(vector, cells.inputs["Vector"])
        value, compare = cells.outputs["Distance"], "LESS_THAN"
    step = nodes.tree.nodes.new("ShaderNodeMath")
    step.operation = compare
    step.inputs[1].default_value = share
    nodes.link(value, step.inputs[0])
    return nodes.mix(step.outputs[0], colour, _rgba(second_rgb))


def _bands(nodes: _Nodes, colour: Any, second_rgb: Rgb, *, axes: tuple[float, float, float]) -> Any:
    wave = nodes.node("ShaderNodeTexWave", Scale=1.0)
    wave.bands_direction = "X"
    spread = nodes.place()
    dot = nodes.tree.nodes.new("ShaderNodeVectorMath")
    dot.operation = "DOT_PRODUCT"
    dot.inputs[1].default_value = [5.0 * axis for axis in axes]
    nodes.link(spread, dot.inputs[0])
    nodes.link(dot.outputs["Value"], wave.inputs["Vector"])
    step = nodes.tree.nodes.new("ShaderNodeMath")
    step.operation = "GREATER_THAN"
    step.inputs[1].default_value = 0.7
    nodes.link(wave.outputs["Fac"], step.inputs[0])
    return nodes.mix(step.outputs[0], colour, _rgba(second_rgb))


def surface_material(kind: str, rgb: Rgb, second_rgb: Rgb) -> Any:
    """Wall or floor."""
    nodes = _Nodes(kind, roughness=0.85)
    first, second = _rgba(rgb), _rgba(second_rgb)
    vector = nodes.place()
    if kind in ("brick", "tiles", "paving", "planks_floor", "planks"):
        return _laid(nodes, kind, first, second)
    if kind == "wallpaper":
        colour = _bands(nodes, first, second_rgb, axes=(1, 0, 0))
        return nodes.done(nodes.speckle(colour, vector, scale=150, amount=0.06))
    if kind in ("grass", "carpet"):
        fine = nodes.noise(vector, scale=300, detail=4)
        nodes.bump(fine, strength=0.8, distance=0.01)
        colour = nodes.speckle(first, vector, scale=250, amount=0.6 if kind == "grass" else 0.3)
        return nodes.done(nodes.speckle(colour, vector, scale=6, amount=0.25))
    if kind == "concrete":
        nodes.bump(nodes.noise(vector, scale=60), strength=0.3, distance=0.004)
        colour = nodes.speckle(first, vector, scale=9, amount=0.3)
        return nodes.done(nodes.speckle(colour, vector, scale=120, amount=0.15))
    return nodes.done(nodes.speckle(first, vector, scale=3, amount=0.05))


def _laid(nodes: _Nodes, kind: str, first: Any, second: Any) -> Any:
    """Bricks, tiles, slabs and boards, all from the brick texture."""
    length, height, mortar, offset = {
        "brick": (0.21, 0.075, 0.008, 0.5),
        "tiles": (0.3, 0.3, 0.004, 0.0),
        "paving": (0.4, 0.4, 0.008, 0.5),
        "planks_floor": (1.3, 0.13, 0.0015, 0.37),
        "planks": (3.5, 0.12, 0.003, 0.3),
    }[kind]
    dark = (0.35 * first[0], 0.35 * first[1], 0.35 * first[2], 1.0)
    if kind in ("brick", "tiles"):
        dark = (0.45, 0.43, 0.40, 1.0)
    brick = nodes.node(
        "ShaderNodeTexBrick",
        Color1=first,
        Color2=second,
        Mortar=dark,
        Scale=1.0,
        Mortar_Size=mortar,
        Bias=0.0,
        Brick_Width=length,
        Row_Height=height,
    )
    brick.offset = offset
    geometry = nodes.node("ShaderNodeNewGeometry")
    split = nodes.node("ShaderNodeSeparateXYZ")
    nodes.link(geometry.outputs["Position"], split.inputs[0])
    join = nodes.node("ShaderNodeCombineXYZ")
    on_floor = kind in ("tiles", "paving", "planks_floor")
    nodes.link(split.outputs["X"], join.inputs["X"])
    nodes.link(split.outputs["Y" if on_floor else "Z"], join.inputs["Y"])
    nodes.link(join.outputs[0], brick.inputs["Vector"])
    colour = brick.outputs["Color"]
    nodes.bump(brick.outputs["Fac"], strength=-0.5, distance=0.004)
    if kind.startswith("planks"):
        grain = nodes.place((2, 30, 30))
        colour = nodes.speckle(colour, grain, scale=3, amount=0.4)
    return nodes.done(nodes.speckle(colour, nodes.place(), scale=40, amount=0.2))
