/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_SETTING_H
#define WR_SIM_SCENARIO_SETTING_H

/* Settings: changes of a scenario's tree before it is read. Inside sim/scenario/ only. */

#include "sim/scenario/reader.h"

/* Applies "POINTER=VALUE" to the reader's tree, which is an object. VALUE is JSON where it parses as JSON, else text.
 * A key or block that the table knows is added where it is missing; in a list, the number after the last item's or "-"
 * adds one. Whatever cannot be applied is complained of and changes nothing that is read. The setting's text must live
 * as long as the reader: complaints about the value will name it. */
void wr_setting_apply(struct wr_reader *reader, const char *setting);

#endif
