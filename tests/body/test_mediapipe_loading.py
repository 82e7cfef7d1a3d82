import subprocess
import sys

PROGRAM = """
import sys
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.privacy.mediapipe_faces import mediapipe_faces
pose_model(), mediapipe_faces("short")
print("matplotlib" in sys.modules, "sounddevice" in sys.modules)
import matplotlib.pyplot
print(matplotlib.pyplot.figure.__module__)
"""


def test_mediapipe_is_loaded_without_drawing_and_others_may_still_draw():
    run = subprocess.run(
        [sys.executable, "-c", PROGRAM], check=True, capture_output=True, text=True
    )
    assert run.stdout.split() == ["False", "False", "matplotlib.pyplot"]
    assert run.stderr == ""
