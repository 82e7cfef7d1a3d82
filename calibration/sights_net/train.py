"""Train on the crops of all worlds but one, for a given time.

python -m calibration.sights_net.train CROPS.npz --out OUT --leave-out WORLD --seconds 170

With ``--start`` it goes on from weights trained before, which may have fewer maps.
"""

import argparse
import time
from pathlib import Path
from typing import Any, Final

import cv2
import numpy as np
import torch
from torch.nn import functional

from calibration.sights_net.crops import CROP_MARGIN_PX
from calibration.sights_net.net import SightsNet, places
from pose_fit.sights.legs_network import JOINTS, LEG_PX, SIGHTS, WINDOW_HIP_ROW, WINDOW_PX

_BATCH: Final = 64
#: Spread of the wanted distribution, in window pixels.
_SIGMA_PX: Final = 2.5
#: Whose left is whose right in a mirrored picture.
_MIRRORED: Final = [0, 1, 3, 2, 5, 4, 7, 6, 9, 8, 11, 10, 13, 12]
#: The pose model's hips and ankles differ from the true ones by about this, in parts of a leg.
_HIP_JITTER: Final = (0.015, 0.035, 0.025)
_ANKLE_JITTER: Final = (-0.005, 0.025, 0.02)
#: One window in four errs by more: through skirts and hanging cloth hips are guessed worse.
_FAR_SHARE: Final = 0.25
_FAR: Final = 2.0
#: First learning rate of new weights, and of weights trained before.
_RATE_NEW: Final = 2e-3
_RATE_ON: Final = 1e-3


def _load(files: list[Path], device: str) -> tuple[Any, Any, Any]:
    pictures, targets, worlds = [], [], []
    for file in files:
        with np.load(file) as data:
            ends = np.cumsum(data["lengths"])[:-1]
            for code in np.split(data["bytes"], ends):
                pictures.append(cv2.imdecode(code, cv2.IMREAD_COLOR)[..., ::-1])
            targets.append(data["targets"])
            worlds.append(data["worlds"])
    stacked = torch.from_numpy(np.stack(pictures)).permute(0, 3, 1, 2).contiguous()
    return (
        stacked.to(device),
        torch.from_numpy(np.concatenate(targets)).to(device),
        np.concatenate(worlds),
    )


def _windows(count: int, device: str, generator: Any) -> Any:
    """(N, 2, 3) maps from window to crop pixels, for hips and ankles seen a little wrong."""

    is_far = torch.rand(count, device=device, generator=generator) < _FAR_SHARE
    wider = 1 + (_FAR - 1) * is_far

    def normal(mean: float, sd: float) -> Any:
        return mean + sd * wider * torch.randn(count, device=device, generator=generator)

    middle = CROP_MARGIN_PX + (WINDOW_PX[1] - 1) / 2
    top = CROP_MARGIN_PX + WINDOW_HIP_ROW
    hip = torch.stack(
        [
            middle + LEG_PX * normal(0.0, _HIP_JITTER[2]),
            top + LEG_PX * normal(*_HIP_JITTER[:2]),
        ],
        1,
    )
    ankle = torch.stack(
        [
            middle + LEG_PX * normal(0.0, _ANKLE_JITTER[2]),
            top + LEG_PX + LEG_PX * normal(*_ANKLE_JITTER[:2]),
        ],
        1,
    )
    along = ankle - hip
    scale = along.norm(dim=1, keepdim=True) / LEG_PX
    along = along / along.norm(dim=1, keepdim=True)
    across = torch.stack([along[:, 1], -along[:, 0]], 1)
    corner = hip - scale * ((WINDOW_PX[1] - 1) / 2 * across + WINDOW_HIP_ROW * along)
    return torch.stack([across * scale, along * scale, corner], 2)


def _sample(crops: Any, targets: Any, maps: Any) -> tuple[Any, Any]:
    """Windows of crops, and the targets in them."""
    height, width = crops.shape[2:]
    rows = torch.arange(WINDOW_PX[0], device=crops.device, dtype=torch.float32)
    columns = torch.arange(WINDOW_PX[1], device=crops.device, dtype=torch.float32)
    grid = torch.stack(torch.meshgrid(rows, columns, indexing="ij")[::-1], 2)
    placed = torch.einsum("nij,hwj->nhwi", maps[:, :, :2], grid) + maps[:, None, None, :, 2]
    size = torch.tensor([width - 1, height - 1], device=crops.device)
    windows = functional.grid_sample(
        crops.float() / 255,
        2 * placed / size - 1,
        mode="bilinear",
        padding_mode="border",
        align_corners=True,
    )
    inverse = torch.linalg.inv(maps[:, :, :2])
    inside = torch.einsum("nij,nsj->nsi", inverse, targets - maps[:, None, :, 2])
    return windows, inside


def _varied(windows: Any, generator: Any) -> Any:
    """Colours, light, blur and noise of another phone and room."""
    count, device = len(windows), windows.device

    def uniform(low: float, high: float, *shape: int) -> Any:
        return low + (high - low) * torch.rand(count, *shape, device=device, generator=generator)

    windows = windows * uniform(0.6, 1.4, 1, 1, 1) * uniform(0.85, 1.15, 3, 1, 1)
    mean = windows.mean(dim=(1, 2, 3), keepdim=True)
    windows = mean + (windows - mean) * uniform(0.6, 1.4, 1, 1, 1)
    grey = windows.mean(dim=1, keepdim=True)
    windows = grey + (windows - grey) * uniform(-0.2, 1.5, 1, 1, 1)
    if torch.rand(1, device=device, generator=generator) < 0.4:
        windows = windows[:, torch.randperm(3, device=device, generator=generator)]
    windows = windows * _print(windows, uniform, generator)
    kernel = torch.tensor([1.0, 2.0, 1.0], device=device)
    kernel = (kernel[:, None] * kernel / 16).expand(3, 1, 3, 3)
    blurred = windows
    for _ in range(3):
        blurred = functional.conv2d(blurred, kernel, padding=1, groups=3)
    share = uniform(-0.7, 1.0, 1, 1, 1).clamp(min=-0.5)
    windows = windows + share * (blurred - windows)
    noise = torch.randn(windows.shape, device=device, generator=generator)
    windows = windows + noise * uniform(0.0, 0.06, 1, 1, 1)
    # A soft shadow across the picture.
    height, width = windows.shape[2:]
    y = torch.linspace(-1, 1, height, device=device)[None, None, :, None]
    x = torch.linspace(-1, 1, width, device=device)[None, None, None]
    slope = uniform(-4, 4, 1, 1, 1) * x + uniform(-4, 4, 1, 1, 1) * y + uniform(-2, 2, 1, 1, 1)
    windows = windows * (1 - uniform(-0.5, 0.5, 1, 1, 1).clamp(min=0) * torch.sigmoid(3 * slope))
    return windows.clamp(0, 1)


def _print(windows: Any, uniform: Any, generator: Any) -> Any:
    """Factors of stripes and blotches over part of the picture, on every second one.

    A seam or crease is told from a print by where it leads, which is what this teaches.
    """
    count, _, height, width = windows.shape
    device = windows.device
    y = torch.arange(height, device=device, dtype=torch.float32)[None, None, :, None]
    x = torch.arange(width, device=device, dtype=torch.float32)[None, None, None]
    angle = uniform(0, 3.14159, 1, 1, 1)
    # Half of the stripes run down, as on trousers.
    down = torch.rand(count, 1, 1, 1, device=device, generator=generator) < 0.5
    angle = torch.where(down, 0.1 * (angle - 1.57), angle)
    period = uniform(5, 60, 1, 1, 1)
    wave = torch.sin(
        6.28318 * (x * torch.cos(angle) + y * torch.sin(angle)) / period + uniform(0, 6.3, 1, 1, 1)
    )
    wave = torch.tanh(wave * uniform(0.7, 6, 1, 1, 1))
    cells = torch.randn(count, 1, 24, 17, device=device, generator=generator)
    blotches = torch.tanh(
        2 * functional.interpolate(cells, size=(height, width), mode="bicubic", align_corners=False)
    )
    pattern = torch.where(uniform(0, 1, 1, 1, 1) < 0.6, wave, blotches)
    middle, half = uniform(0.2, 0.8, 1, 1, 1) * width, uniform(0.05, 0.6, 1, 1, 1) * width
    inside = torch.sigmoid((half - (x - middle).abs()) / 2)
    strength = uniform(-0.35, 0.35, 1, 1, 1).clamp(min=0)
    return 1 + strength * inside * pattern * uniform(0.5, 1.0, 3, 1, 1)


def _loss(maps: Any, targets: Any) -> Any:
    """Cross-entropy to a narrow distribution at the target, and distance of the mean."""
    _, _, height, width = maps.shape
    known = torch.isfinite(targets).all(dim=2)
    inside = known & (targets[..., 0] > -20) & (targets[..., 0] < 2 * width + 20)
    inside &= (targets[..., 1] > -20) & (targets[..., 1] < 2 * height + 20)
    at = torch.nan_to_num(targets).clamp(-10, 2 * height + 10)
    rows = torch.arange(height, device=maps.device) * 2 + 0.5
    columns = torch.arange(width, device=maps.device) * 2 + 0.5
    down = (rows - at[..., 1:]) ** 2
    over = (columns - at[..., :1]) ** 2
    wanted = -(down[..., :, None] + over[..., None, :]) / (2 * _SIGMA_PX**2)
    wanted = torch.softmax(wanted.flatten(2), dim=2)
    logs = torch.log_softmax(maps.flatten(2), dim=2)
    cross = -(wanted * logs).sum(2)
    means, _ = places(maps)
    apart = ((means - at).abs().clamp(max=40) * torch.tensor([0.5, 1.0], device=maps.device)).sum(2)
    loss = (cross + 0.10 * apart) * inside
    return loss.sum() / inside.sum().clamp(min=1)


def main() -> None:
    """Train, tell the errors in the world left out, and write the weights."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("crops", type=Path, nargs="+")
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--leave-out", default="")
    parser.add_argument("--seconds", type=float, default=170)
    parser.add_argument("--batch", type=int, default=_BATCH)
    parser.add_argument("--start", type=Path, help="weights to go on from")
    args = parser.parse_args()
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.backends.cudnn.benchmark = True
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    crops, targets, worlds = _load(args.crops, device)
    train = torch.from_numpy(np.flatnonzero(worlds != args.leave_out)).to(device)
    left_out = np.flatnonzero(worlds == args.leave_out)
    generator = torch.Generator(device=device).manual_seed(1)
    torch.manual_seed(1)
    net = SightsNet().to(device)
    if args.start is not None:
        _go_on_from(net, torch.load(args.start, map_location=device))
    first_rate = _RATE_NEW if args.start is None else _RATE_ON
    slow = SightsNet().to(device)
    slow.load_state_dict(net.state_dict())
    optimiser = torch.optim.AdamW(net.parameters(), lr=first_rate, weight_decay=1e-2)
    began, steps = time.time(), 0
    mirrored = torch.tensor(_MIRRORED, device=device)
    while (done := (time.time() - began) / args.seconds) < 1:
        rate = first_rate * min(1.0, steps / 100) * 0.5 * (1 + np.cos(np.pi * done))
        for group in optimiser.param_groups:
            group["lr"] = max(float(rate), 1e-6)
        pick = torch.randint(len(train), (args.batch,), device=device, generator=generator)
        own = train[pick]
        maps = _windows(args.batch, device, generator)
        windows, inside = _sample(crops[own], targets[own], maps)
        if steps % 2:
            windows = windows.flip(3)
            inside = inside[:, mirrored].clone()
            inside[..., 0] = WINDOW_PX[1] - 1 - inside[..., 0]
        seen = net(_varied(windows, generator))
        loss = _loss(seen.float(), inside)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 5.0)
        optimiser.step()
        steps += 1
        with torch.no_grad():
            keep = min(0.998, steps / (steps + 20))
            for kept, new in zip(
                slow.state_dict().values(), net.state_dict().values(), strict=True
            ):
                if kept.dtype.is_floating_point:
                    kept.mul_(keep).add_(new, alpha=1 - keep)
                else:
                    kept.copy_(new)
        if steps % 500 == 0 or steps in (10, 20, 40, 80):
            print(args.leave_out, steps, round(float(loss), 3), flush=True)
    slow.eval()
    torch.save(slow.state_dict(), args.out)
    print(f"left out {args.leave_out or 'none'}: {steps} steps, loss {float(loss):.3f}")
    if len(left_out):
        _tell(slow, crops[left_out], targets[left_out], device, generator)


def _go_on_from(net: Any, weights: dict[str, Any]) -> None:
    """Take over all weights; maps that are new keep their own."""
    own = net.state_dict()
    for name, new in weights.items():
        if new.ndim:
            own[name][: len(new)] = new
    net.load_state_dict(own)


def _tell(net: Any, crops: Any, targets: Any, device: str, generator: Any) -> None:
    errors = []
    with torch.no_grad():
        for start in range(0, len(crops), 128):
            part = slice(start, start + 128)
            maps = _windows(len(crops[part]), device, generator)
            windows, inside = _sample(crops[part], targets[part], maps)
            means, _ = places(net(windows).float())
            errors.append((means - inside).cpu().numpy())
    rows = np.concatenate(errors)[..., 1] / LEG_PX
    for place, name in enumerate((*SIGHTS, *JOINTS)):
        known = rows[np.isfinite(rows[:, place]), place]
        low, middle, high = np.quantile(known, [0.16, 0.5, 0.84])
        print(
            f"  {name}: median {middle:+.4f}, spread {(high - low) / 2:.4f},"
            f" beyond 0.05: {np.mean(np.abs(known) > 0.05):.3f}",
            flush=True,
        )


if __name__ == "__main__":
    main()
