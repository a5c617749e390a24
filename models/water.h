/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_WATER_H
#define WR_MODELS_WATER_H

#include "models/status.h"

/* Fresh water as the other models see it. */
struct wr_water {
    double density;   /* kg/m3 */
    double viscosity; /* Pa s, dynamic */
};

/* Figures marked "regression" below were computed with Debian's python3-iapws 1.5.3. */

/* Temperatures between which both formulas below hold, K. */
#define WR_WATER_COLDEST 253.15
#define WR_WATER_WARMEST 383.15

/* Density of liquid water at 0.1 MPa.
 *     1/rho = (R T0/p0) (a5 + sum over i = 6..10 of a_i alpha^n_i + b_i beta^m_i)
 *     alpha = T0/(593 K - T), beta = T0/(T - 232 K), T0 = 10 K, p0 = 0.1 MPa, R = 461.51805 J/(kg K)
 * Given: temperature, K, 253.15 to 383.15 (below 273.15 K the liquid is supercooled).
 * Returns: density, kg/m3; WR_OUT_OF_RANGE outside the range.
 * Neglects: pressure (0.5 g/m3 per kPa, so 0.02 % at 5 bar), dissolved salts and gases.
 * Scatter: within 4e-8 of the IAPWS-95 equation of state from 273.16 to 372.5 K (regression).
 * Source: IAPWS SR6-08, Revised Supplementary Release on Properties of Liquid Water at 0.1 MPa,
 * 2011.
 * Pinned by: tests/published/test_water.c */
enum wr_status wr_water_density(double temperature, double *density);

/* Dynamic viscosity of liquid water at 0.1 MPa.
 *     mu = 1e-6 Pa s (280.68 t^-1.9 + 511.45 t^-7.7 + 61.131 t^-19.6 + 0.45903 t^-40), t = T/(300 K)
 * Given: temperature, K, 253.15 to 383.15.
 * Returns: viscosity, Pa s; WR_OUT_OF_RANGE outside the range.
 * Neglects: pressure (0.06 % at 0 C and 5 bar, less above; regression, likewise), dissolved salts.
 * Scatter: within 3.1e-5 of the IAPWS 2008 viscosity formulation from 273.16 to 372.5 K (regression);
 * handbook tables differ from it by 0.6 % at 0 C and under 0.13 % from 5 to 40 C, older ones by up to 0.7 %.
 * Source: IAPWS SR6-08 (2011), equation 7.
 * Pinned by: tests/published/test_water.c */
enum wr_status wr_water_viscosity(double temperature, double *viscosity);

/* Both properties at once: density and viscosity of liquid water at 0.1 MPa.
 * Given: temperature, K, 253.15 to 383.15.
 * Returns: water; WR_OUT_OF_RANGE outside the range.
 * Neglects, scatter, source, pinned by: see the two functions above. */
enum wr_status wr_water_at(double temperature, struct wr_water *water);

#endif
