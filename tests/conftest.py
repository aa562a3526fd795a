"""What all tests share: the package on the path, quiet and repeatable property tests."""

from hypothesis import settings

settings.register_profile("ordinary", deadline=None, derandomize=True, max_examples=200)
settings.load_profile("ordinary")
