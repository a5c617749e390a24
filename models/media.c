/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/media.h"

#include <string.h>

#define TABLE_E3 "mid values of Trussell and Chang 1999, in Hendricks 2011, table E.3 p. 830"
#define TABLE_11_1 "mid values of Davis 2010, table 11-1"

const struct wr_medium wr_media_table[] = {
    {"anthracite", 227.5, 4.4, 0.495, true, 1.625, 0.53, 1.5, true, false, TABLE_E3 ", crushed anthracite",
     TABLE_11_1 "; uniformity illustrative"},
    {"sand", 112.5, 2.25, 0.415, true, 2.60, 0.75, 1.55, true, false, TABLE_E3 ", crushed sand", TABLE_11_1},
    {"glass beads", 140, 1.55, 0.39, true, 2.5, 1, 1.2, false, false, TABLE_E3 ", glass beads",
     "illustrative: soda-lime glass, from memory, and spheres"},
    {"manganese-coated sand", 112.5, 2.25, 0.415, false, 2.60, 0.75, 1.55, false, false,
     "illustrative: crushed sand's, the coating neglected", "illustrative: sand's, the coating neglected"},
    {"greensand", 112.5, 2.25, 0.415, false, 2.4, 0.75, 1.6, false, false,
     "illustrative: crushed sand's, no figure for greensand found",
     "illustrative: specific gravity and uniformity from memory, sand's sphericity"},
    {"gravel", 150, 1.75, 0.40, false, 2.65, 0.8, 1.5, false, true,
     "illustrative: Ergun's own constants for mixed grains, porosity assumed", "illustrative: rounded stones"},
};

const size_t wr_media_count = sizeof(wr_media_table) / sizeof(wr_media_table[0]);

const struct wr_medium *wr_medium_find(const char *name)
{
    for (size_t i = 0; i < wr_media_count; i++)
        if (strcmp(wr_media_table[i].name, name) == 0)
            return &wr_media_table[i];
    return NULL;
}
