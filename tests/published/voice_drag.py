# SPDX-License-Identifier: GPL-3.0-or-later
"""Drag of spheres by python3-fluids: one row "Reynolds, C_D of Haider and Levenspiel, of Clift, of Stokes"."""

try:
    import fluids
    from fluids.drag import Clift, Haider_Levenspiel, Stokes
except ImportError:
    print("missing")
else:
    print("fluids", fluids.__version__)
    for step in range(101):
        reynolds = 10 ** (-3 + 0.07 * step)
        laws = (Haider_Levenspiel(reynolds), Clift(reynolds), Stokes(reynolds))
        print(repr(reynolds), *(repr(x) for x in laws))
