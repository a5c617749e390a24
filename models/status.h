/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_STATUS_H
#define WR_MODELS_STATUS_H

/* What can go wrong with numbers. A function that can fail returns one of these codes and leaves its outputs untouched
 * unless it returns WR_OK. A new code is one line of this table, which yields both the codes and their texts. */
#define WR_STATUS_TABLE(row)                                                                                           \
    row(WR_OK, "no fault") row(WR_OUT_OF_RANGE, "a value lies outside the range in which its formula holds")           \
        row(WR_NO_RISE, "the observed headloss at the end of the run is not above the clean one")                      \
            row(WR_NO_LOAD, "the observed run gathered no solids")                                                     \
                row(WR_CLEAN_BELOW_BED,                                                                                \
                    "the observed clean differential is less than the clean media alone would give at that rate; "     \
                    "area, flow and media of the filter are what it follows from")                                     \
                    row(WR_CLEAN_BELOW_FITTINGS,                                                                       \
                        "the observed clean differential is less than the fittings alone would give at that rate")     \
                        row(WR_UNKNOWN_UNIT, "an outage or a rota names a unit that the plant does not have")          \
                            row(WR_CARRIED_OFF, "the water carries the grains off at that rate")                       \
                                row(WR_NO_KNOWN_BED, "no filter has media whose weight and shape are all known")       \
                                    row(WR_NO_MEMORY, "there is not enough memory")

#define WR_STATUS_CODE(code, text) code,
enum wr_status { WR_STATUS_TABLE(WR_STATUS_CODE) WR_STATUS_COUNT };
#undef WR_STATUS_CODE

/* The words for a code, in lower case and without a full stop; "unknown status" for a number that is no code. */
const char *wr_status_text(enum wr_status status);

#endif
