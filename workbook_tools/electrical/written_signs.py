"""The signs that phones and office programs put in place of plain ones.

    PLAIN_SIGNS      curly quotes, primes, long dashes, odd spaces: each with its plain sign
    FRACTION_SIGNS   "½" and its like, each written out behind a space

One list for lengths and voltages here, and for whatever else is read from what people type.
Not here: what a text means.
"""

from __future__ import annotations

__all__ = ["FRACTION_SIGNS", "PLAIN_SIGNS"]

PLAIN_SIGNS = {
    **dict.fromkeys("’‘′`´ʹ", "'"),
    **dict.fromkeys("”“″ʺ", '"'),
    **dict.fromkeys("–—−‐‑‒", "-"),
    **dict.fromkeys("⁄∕", "/"),
    **dict.fromkeys("\u00a0\u202f\u2007\u2009\t\r", " "),
    **dict.fromkeys("\u200b\u200c\u200d\u2060\ufeff", ""),
}

FRACTION_SIGNS = {
    "½": " 1/2", "⅓": " 1/3", "⅔": " 2/3", "¼": " 1/4", "¾": " 3/4", "⅕": " 1/5", "⅖": " 2/5", "⅗": " 3/5", "⅘": " 4/5",
    "⅙": " 1/6", "⅚": " 5/6", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
}  # fmt: skip
