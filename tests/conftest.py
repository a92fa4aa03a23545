"""Settings that every test shares."""

import os

from hypothesis import settings

# No deadline: geometry on a busy machine is slow now and then, and that is no fault of the code. In CI the examples are
# the same on each run, so that a change is judged by what it changed; elsewhere each run looks at new ground.
settings.register_profile("marram", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("marram")
