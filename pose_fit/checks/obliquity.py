"""How obliquely the wall may be seen, in one place for every check."""

from typing import Final

import numpy as np

__all__ = ["FEET_APART_IN_DEPTH_RAD", "HEELS_HIDDEN_RAD", "TOLD_OF_RAD", "TOO_OBLIQUE_RAD"]

#: Seen more obliquely than this a flat object tells little of its own scale.
TOO_OBLIQUE_RAD: Final = float(np.radians(45.0))
#: From here on the distances from the wall turn into sideways shifts, which is told.
TOLD_OF_RAD: Final = float(np.radians(25.0))
#: From here on one foot is so much nearer that one ankle looks higher.
FEET_APART_IN_DEPTH_RAD: Final = float(np.radians(25.0))
#: From here on the picture hides how high the heels are.
HEELS_HIDDEN_RAD: Final = float(np.radians(22.0))
