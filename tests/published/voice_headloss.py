# SPDX-License-Identifier: GPL-3.0-or-later
"""Pressure lost in one metre of bed by python3-fluids: Ergun's equation with 150 and 1.75, and Erdim, Akgiray and Demir's.

One row "grain m, porosity, rate m/s, density kg/m3, viscosity Pa.s, loss Pa, the other's loss Pa" for each bed.
"""

from itertools import product

try:
    import fluids
    from fluids.packed_bed import Erdim_Akgiray_Demir, Ergun
except ImportError:
    print("missing")
else:
    print("fluids", fluids.__version__)
    grains = (0.2e-3, 0.45e-3, 0.9e-3, 1.5e-3, 4e-3, 12e-3)
    porosities = (0.36, 0.40, 0.45, 0.55)
    rates = (1e-4, 1e-3, 2.5e-3, 5e-3, 1.2e-2)
    waters = ((999.84, 1.7918e-3), (998.21, 1.0016e-3), (992.22, 6.527e-4))
    for grain, porosity, rate, (density, viscosity) in product(grains, porosities, rates, waters):
        bed = {"dp": grain, "voidage": porosity, "vs": rate, "rho": density, "mu": viscosity}
        losses = (Ergun(**bed), Erdim_Akgiray_Demir(**bed))
        print(*(repr(x) for x in (grain, porosity, rate, density, viscosity, *losses)))
