"""The arrays that the statistics pass between them."""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
