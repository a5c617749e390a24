/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/media.h"

#include <string.h>

#define TABLE_E3 "mid values of Trussell and Chang 1999, in Hendricks 2011, table E.3 p. 830"

const struct wr_medium wr_media_table[] = {
    {"anthracite", 227.5, 4.4, 0.495, true, TABLE_E3 ", crushed anthracite"},
    {"sand", 112.5, 2.25, 0.415, true, TABLE_E3 ", crushed sand"},
    {"glass beads", 140, 1.55, 0.39, true, TABLE_E3 ", glass beads"},
    {"manganese-coated sand", 112.5, 2.25, 0.415, false, "illustrative: crushed sand's, the coating neglected"},
    {"greensand", 112.5, 2.25, 0.415, false, "illustrative: crushed sand's, no figure for greensand found"},
    {"gravel", 150, 1.75, 0.40, false, "illustrative: Ergun's own constants for mixed grains, porosity assumed"},
};

const size_t wr_media_count = sizeof(wr_media_table) / sizeof(wr_media_table[0]);

const struct wr_medium *wr_medium_find(const char *name)
{
    for (size_t i = 0; i < wr_media_count; i++)
        if (strcmp(wr_media_table[i].name, name) == 0)
            return &wr_media_table[i];
    return NULL;
}
