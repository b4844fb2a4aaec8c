/* The bytes of a file or, if its first bytes say that it is compressed (Y. Collet, M. Kucherawy, "Zstandard Compression and
 * the 'application/zstd' Media Type", RFC 8878, 2021), of what was compressed. */
#ifndef PAWNVANE_PACKED_BYTES_H
#define PAWNVANE_PACKED_BYTES_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

typedef struct PackedBytes {
    const char *name; /* for messages */
    int descriptor;
    char *raw; /* as they stand in the file: read, but not yet used */
    size_t at, length;
    void *unpacker;           /* null for a file that is not compressed */
    bool begun, within_frame; /* the file was looked at; a compressed part is not complete */
} PackedBytes;

/* "-" is the standard input. False on failure (reported). Nothing is read yet. */
bool packed_open(PackedBytes *bytes, const char *path);
void packed_close(PackedBytes *bytes);

/* Reads `size` bytes (1 or more) at most. Returns how many; 0 at the end; -1 on failure (reported). */
ssize_t packed_read(PackedBytes *bytes, char *to, size_t size);

#endif
