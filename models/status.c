/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/status.h"

#define STATUS_TEXT(code, text) text,
static const char *const texts[] = {WR_STATUS_TABLE(STATUS_TEXT)};

const char *wr_status_text(enum wr_status status)
{
    return (unsigned)status < WR_STATUS_COUNT ? texts[status] : "unknown status";
}
