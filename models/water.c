/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/water.h"

#include "models/range.h"

#include <math.h>
#include <stddef.h>

/* A factor times a power of one of the two reduced temperatures. */
struct term {
    double factor;
    unsigned power;
};

/* Figures of IAPWS SR6-08 for specific volume: terms in alpha = T0/(593 K - T) and in beta = T0/(T - 232 K). */
static const double volume_constant = 1.93763157e-2;
static const struct term volume_alpha[] = {
    {6.74458446e3, 4}, {-2.22521604e5, 5}, {1.00231247e8, 7}, {-1.63552118e9, 8}, {8.32299658e9, 9}};
static const struct term volume_beta[] = {{5.78545292e-3, 1},  {-1.53195665e-2, 2}, {3.11337859e-2, 3},
                                          {-4.23546241e-2, 4}, {3.38713507e-2, 5},  {-1.19946761e-2, 6}};

static const double gas_constant = 461.51805; /* J/(kg K) */
static const double reduced_by = 10;          /* K, T0 */
static const double pressure = 1e5;           /* Pa, p0 */

#define COUNT(table) (sizeof(table) / sizeof((table)[0]))

/* By products: pow may round another way on another machine. */
static double whole_power(double base, unsigned power)
{
    double product = 1;
    while (power--)
        product *= base;
    return product;
}

static double sum_of(const struct term *terms, size_t count, double reduced)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++)
        sum += terms[i].factor * whole_power(reduced, terms[i].power);
    return sum;
}

static double density_at(double temperature)
{
    double alpha = reduced_by / (593 - temperature);
    double beta = reduced_by / (temperature - 232);
    double sum = volume_constant + sum_of(volume_alpha, COUNT(volume_alpha), alpha) +
                 sum_of(volume_beta, COUNT(volume_beta), beta);
    return pressure / (gas_constant * reduced_by * sum);
}

static double viscosity_at(double temperature)
{
    double reduced = temperature / 300;
    return 1e-6 * (280.68 * pow(reduced, -1.9) + 511.45 * pow(reduced, -7.7) + 61.131 * pow(reduced, -19.6) +
                   0.45903 / whole_power(reduced, 40));
}

static bool is_liquid(double temperature)
{
    return wr_is_within(temperature, WR_WATER_COLDEST, WR_WATER_WARMEST);
}

enum wr_status wr_water_density(double temperature, double *density)
{
    if (!is_liquid(temperature))
        return WR_OUT_OF_RANGE;
    *density = density_at(temperature);
    return WR_OK;
}

enum wr_status wr_water_viscosity(double temperature, double *viscosity)
{
    if (!is_liquid(temperature))
        return WR_OUT_OF_RANGE;
    *viscosity = viscosity_at(temperature);
    return WR_OK;
}

enum wr_status wr_water_at(double temperature, struct wr_water *water)
{
    if (!is_liquid(temperature))
        return WR_OUT_OF_RANGE;
    *water = (struct wr_water){.density = density_at(temperature), .viscosity = viscosity_at(temperature)};
    return WR_OK;
}
