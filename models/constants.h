/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_CONSTANTS_H
#define WR_MODELS_CONSTANTS_H

/* Standard gravity, m/s2: exact by convention (3rd General Conference on Weights and Measures, 1901). Sources that
 * print 9.80, 9.807 or 9.81 differ by 0.07 % at most. */
#define WR_GRAVITY 9.80665

#define WR_PI 3.14159265358979323846

#endif
