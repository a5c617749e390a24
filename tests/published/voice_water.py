# SPDX-License-Identifier: GPL-3.0-or-later
"""Density and viscosity of liquid water by python3-iapws: one row "kelvin kg/m3 Pa.s" for each temperature."""

try:
    import iapws
    from iapws._iapws import _Liquid
except ImportError:
    print("missing")
else:
    print("iapws", iapws.__version__)
    for step in range(261):
        kelvin = 253.15 + 0.01 + step * 0.499
        water = _Liquid(kelvin)
        print(repr(kelvin), repr(water["rho"]), repr(water["mu"]))
