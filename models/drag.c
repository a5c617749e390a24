/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/drag.h"

#include <math.h>

double wr_drag_stokes(double reynolds, double sphericity)
{
    (void)sphericity;
    return 24 / reynolds;
}

double wr_drag_rose(double reynolds, double sphericity)
{
    (void)sphericity;
    if (reynolds <= 0.5)
        return 24 / reynolds;
    return 24 / reynolds + 3 / sqrt(reynolds) + 0.34;
}

double wr_drag_brown_lawler(double reynolds, double sphericity)
{
    (void)sphericity;
    return 24 / reynolds * (1 + 0.150 * pow(reynolds, 0.681)) + 0.407 / (1 + 8710 / reynolds);
}

double wr_drag_haider_levenspiel(double reynolds, double sphericity)
{
    if (sphericity >= 1)
        return 24 / reynolds * (1 + 0.1806 * pow(reynolds, 0.6459)) + 0.4251 / (1 + 6880.95 / reynolds);
    const double s = sphericity, s2 = s * s, s3 = s2 * s;
    const double a = exp(2.3288 - 6.4581 * s + 2.4486 * s2);
    const double b = 0.0964 + 0.5565 * s;
    const double c = exp(4.905 - 13.8944 * s + 18.4222 * s2 - 10.2599 * s3);
    const double d = exp(1.4681 + 12.2584 * s - 20.7322 * s2 + 15.8855 * s3);
    return 24 / reynolds * (1 + a * pow(reynolds, b)) + c / (1 + d / reynolds);
}
