/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_DRAG_H
#define WR_MODELS_DRAG_H

/* Drag coefficient of one grain that settles through still water, F = C_D (pi d^2/4) rho v^2/2. All laws have one form,
 * so that settling velocity can be asked of any of them: Reynolds number R = d v rho/mu, above zero, with d the size of
 * the sphere of the same volume, and sphericity, area of that sphere over area of the grain, above zero, up to one. */
typedef double wr_drag_law(double reynolds, double sphericity);

/* Stokes's law.
 *     C_D = 24/R
 * Given: reynolds, above zero; sphericity, not used.
 * Returns: drag coefficient. Holds below R = 0.1 or so; what it gives above is too little.
 * Neglects: inertia of the water, shape.
 * Scatter: 3.1 % low at R = 0.1, 0.65 % at 0.01 (against Brown and Lawler's law).
 * Source: G. G. Stokes, 1851, as in any text on settling.
 * Pinned by: tests/published/test_settling.c */
double wr_drag_stokes(double reynolds, double sphericity);

/* Rose's law for spheres, as the clean-bed law of the same name uses it.
 *     C_D = 24/R + 3/sqrt(R) + 0.34 above R = 0.5, else 24/R
 * Given: reynolds, above zero; sphericity, not used: where a source counts shape it is in R.
 * Returns: drag coefficient; it jumps at R = 0.5, from 48 to 52.6, as the source has it.
 * Scatter: none stated.
 * Source: M. L. Davis, Water and Wastewater Engineering, 2010, example 11-2, pp. 11-14 to 11-16.
 * Pinned by: tests/published/test_headloss.c, tests/published/test_expansion.c */
double wr_drag_rose(double reynolds, double sphericity);

/* Brown and Lawler's law for spheres.
 *     C_D = 24/R (1 + 0.150 R^0.681) + 0.407/(1 + 8710/R)
 * Given: reynolds, above zero, up to 2e5; sphericity, not used.
 * Returns: drag coefficient.
 * Neglects: shape, walls, other grains.
 * Scatter: within 5.5 % of Clift's standard curve, 4.5 % of Haider and Levenspiel's for R from 1e-3 to 1e4 (regression,
 * python3-fluids 1.0.22).
 * Source: P. P. Brown and D. F. Lawler, 2003, Sphere drag and settling velocity revisited, J. Environ. Eng. 129(3),
 * 222-231.
 * Pinned by: tests/published/test_settling.c */
double wr_drag_brown_lawler(double reynolds, double sphericity);

/* Haider and Levenspiel's law for grains of any shape; the one that the program uses.
 *     sphericity 1:  C_D = 24/R (1 + 0.1806 R^0.6459) + 0.4251/(1 + 6880.95/R)
 *     below:         C_D = 24/R (1 + A R^B) + C/(1 + D/R)
 *     A = exp(2.3288 - 6.4581 s + 2.4486 s^2), B = 0.0964 + 0.5565 s,
 *     C = exp(4.905 - 13.8944 s + 18.4222 s^2 - 10.2599 s^3), D = exp(1.4681 + 12.2584 s - 20.7322 s^2 + 15.8855 s^3)
 * Given: reynolds, above zero, up to 2.5e4 (spheres 2.6e5); sphericity s, fitted from 0.67 up.
 * Returns: drag coefficient.
 * Neglects: how the grain lies in the water, walls, other grains. Below s = 0.67 (anthracite) the law is stretched
 * beyond its data.
 * Scatter: root mean square error 5 % for s of 0.67 and more, spheres 2 to 4 % (from memory).
 * Source: A. Haider and O. Levenspiel, 1989, Drag coefficient and terminal velocity of spherical and nonspherical
 * particles, Powder Technol. 58, 63-70; the figures for shapes other than spheres from memory.
 * Pinned by: tests/published/test_settling.c (spheres against python3-fluids) */
double wr_drag_haider_levenspiel(double reynolds, double sphericity);

#endif
