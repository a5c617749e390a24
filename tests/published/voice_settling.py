# SPDX-License-Identifier: GPL-3.0-or-later
"""Settling velocity of spheres by python3-fluids, with the drag of Haider and Levenspiel.

One row "size m, density kg/m3, water's kg/m3, viscosity Pa.s, velocity m/s" for each grain.
"""

from itertools import product

try:
    import fluids
    from fluids.drag import v_terminal
except ImportError:
    print("missing")
else:
    print("fluids", fluids.__version__)
    sizes = (5e-5, 1.26e-4, 3e-4, 6e-4, 1e-3, 2e-3, 5e-3)
    densities = (1400.0, 1600.0, 2650.0, 4000.0)
    waters = ((999.97, 1.5182e-3), (998.21, 1.0016e-3), (992.22, 6.527e-4))
    for size, density, (water, viscosity) in product(sizes, densities, waters):
        velocity = v_terminal(D=size, rhop=density, rho=water, mu=viscosity, Method="Haider_Levenspiel")
        print(*(repr(x) for x in (size, density, water, viscosity, velocity)))
