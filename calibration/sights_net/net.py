"""The network: a small encoder and decoder of plain 3 x 3 convolutions."""

from typing import Any

import torch
from torch import nn

from pose_fit.sights.legs_network import JOINTS, SIGHTS

__all__ = ["SightsNet"]


def _step(inside: int, outside: int, *, stride: int = 1) -> nn.Sequential:
    return nn.Sequential(
        nn.Conv2d(inside, outside, 3, stride=stride, padding=1, bias=False),
        nn.BatchNorm2d(outside),
        nn.ReLU(inplace=True),
    )


class SightsNet(nn.Module):
    """(N, 3, 320, 224) RGB of 0..1 to (N, 14, 160, 112) log weights of places."""

    def __init__(self) -> None:
        super().__init__()
        widths = (20, 40, 64, 96, 112)
        self.down = nn.ModuleList()
        inside = 3
        for level, width in enumerate(widths):
            layers = [_step(inside, width, stride=2)]
            if level > 0:
                layers.append(_step(width, width))
            if level > 2:
                layers.append(_step(width, width))
            if level == len(widths) - 1:
                layers.append(nn.Dropout2d(0.1))
            self.down.append(nn.Sequential(*layers))
            inside = width
        self.lift = nn.ModuleList()
        self.join = nn.ModuleList()
        for width in widths[-2::-1]:
            self.lift.append(nn.Conv2d(inside, width, 1))
            self.join.append(_step(width, width))
            inside = width
        self.head = nn.Conv2d(inside, len(SIGHTS) + len(JOINTS), 1)
        self.grow = nn.Upsample(scale_factor=2, mode="nearest")

    def forward(self, picture: Any) -> Any:
        """Maps of log weights."""
        kept = []
        seen = picture - 0.45
        for layer in self.down:
            seen = layer(seen)
            kept.append(seen)
        for lift, join, beside in zip(self.lift, self.join, kept[-2::-1], strict=True):
            seen = join(self.grow(lift(seen)) + beside)
        return self.head(seen)


def places(maps: Any) -> tuple[Any, Any]:
    """Means (N, S, 2) in window pixels (column, row) of the maps' softmax, and the weights."""
    count, sights, height, width = maps.shape
    weights = torch.softmax(maps.flatten(2), dim=2).view(count, sights, height, width)
    rows = torch.arange(height, device=maps.device, dtype=maps.dtype) * 2 + 0.5
    columns = torch.arange(width, device=maps.device, dtype=maps.dtype) * 2 + 0.5
    row = (weights.sum(3) * rows).sum(2)
    column = (weights.sum(2) * columns).sum(2)
    return torch.stack([column, row], dim=2), weights
