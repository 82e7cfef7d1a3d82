"""Weights as ONNX, for OpenCV's ``dnn``.

python -m calibration.sights_net.export WEIGHTS.pt ... --out FOLDER
"""

import argparse
from pathlib import Path

import torch

from calibration.sights_net.net import SightsNet
from pose_fit.sights.legs_network import WINDOW_PX


def main() -> None:
    """Write one ONNX file a weights file."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("weights", type=Path, nargs="+")
    parser.add_argument("--out", type=Path, required=True)
    args = parser.parse_args()
    args.out.mkdir(parents=True, exist_ok=True)
    for path in args.weights:
        net = SightsNet()
        net.load_state_dict(torch.load(path, map_location="cpu"))
        net.eval()
        torch.onnx.export(
            net,
            torch.zeros(1, 3, *WINDOW_PX),
            str(args.out / f"{path.stem}.onnx"),
            opset_version=12,
            dynamo=False,
            input_names=["picture"],
            output_names=["maps"],
        )


if __name__ == "__main__":
    main()
