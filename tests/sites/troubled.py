"""Work for a process of its own that goes wrong by the name of its file: it hangs, or ends without a word."""

import os
import time

__all__ = ["named", "slow_square", "troubled"]


def troubled(look):
    if "hangs" in look.path.name:
        time.sleep(600)
    if "ends" in look.path.name:
        os._exit(3)
    return look.path.name


def named(look):
    return look.path.name


def slow_square(number):
    """Square a number; the first ones take longest, so that they end last."""
    time.sleep(0.3 / (1 + number))
    return number * number
