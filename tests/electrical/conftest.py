"""Property tests measure what is true, not how fast: the first length loads pint, which takes a moment."""

from hypothesis import settings

settings.register_profile("no deadline", deadline=None)
settings.load_profile("no deadline")
