/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_RESUME_H
#define WR_SIM_STUDY_RESUME_H

/* A run as bytes, so that it can be cut at any moment and gone on with: the plant's state, which is one block, and
 * what the record has gathered.
 *
 * The bytes are a head (what they are, the program's version, the hash of the scenario, the sizes of what follows), the
 * payload, and the SHA-256 of both. They are of the version, the scenario and the kind of machine that wrote them, and
 * anything else is refused. The checksum tells damage and is no signature: of bytes that were forged with care it is
 * sure only that they name no place outside the plant. */

#include "sim/plant/simulation.h"
#include "sim/record/record.h"

/* Bytes that grow. */
struct wr_bytes {
    unsigned char *data; /* owned; freed by the caller */
    size_t length, room;
};

/* What saved bytes are of, and must be of to be gone on with. */
struct wr_stamp {
    const char *version; /* of the program, at most 31 bytes */
    const char *sha256;  /* of the scenario's text, 64 digits */
};

/* How long the longest first bytes are by which a saved run is known. */
enum { WR_RESUME_MAGIC = 16 };

/* True for bytes that begin as a saved run does. */
bool wr_resume_is_saved_run(const unsigned char *bytes, size_t length);

/* Adds to `*bytes`; false without memory, when they stand as they were. */
bool wr_bytes_add(struct wr_bytes *bytes, const void *more, size_t length);

/* Writes a run that has not been ended to `*bytes`, which is empty. False without memory. */
bool wr_resume_save(const struct wr_simulation *simulation, struct wr_record *record, const struct wr_stamp *stamp,
                    struct wr_bytes *bytes);

/* Sets a simulation and a record that have just been made to where bytes were saved. False where the bytes do not fit
 * them, or stand after `until`, s; then the reason is written to `fault`, of `size` bytes, and the simulation is as it
 * was, but the record must not be used. */
bool wr_resume_load(struct wr_simulation *simulation, struct wr_record *record, const struct wr_stamp *stamp,
                    const struct wr_bytes *bytes, double until, char *fault, size_t size);

#endif
