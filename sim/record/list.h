/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_LIST_H
#define WR_SIM_RECORD_LIST_H

/* Lists that grow while a run goes on. */

#include <stddef.h>
#include <stdlib.h>

/* Room for one more item of `size` bytes in a list of `count`, of which `*room` fit. Returns the list, moved perhaps;
 * NULL without memory, and then the list stands as it was. */
static inline void *wr_list_grown(void *items, size_t count, size_t *room, size_t size)
{
    if (count < *room)
        return items;
    const size_t more = *room == 0 ? 256 : *room * 2;
    void *grown = realloc(items, more * size);
    if (grown != NULL)
        *room = more;
    return grown;
}

#endif
