#include "bench/pgn/packed_bytes.h"
#include "bench/base/complaint.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <zstd.h>

enum { RAW_SIZE = 1 << 17, MARK_SIZE = 4 };

bool packed_open(PackedBytes *bytes, const char *path)
{
    bool standard_input = strcmp(path, "-") == 0;
    *bytes = (PackedBytes){.name = standard_input ? "standard input" : path,
                           .descriptor = standard_input ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC)};
    if (bytes->descriptor < 0)
        complain(path, 0, "cannot be opened: %s", strerror(errno));
    return bytes->descriptor >= 0;
}

void packed_close(PackedBytes *bytes)
{
    if (bytes->descriptor > STDIN_FILENO)
        close(bytes->descriptor);
    free(bytes->raw);
    ZSTD_freeDCtx(bytes->unpacker);
    *bytes = (PackedBytes){.descriptor = -1};
}

static ssize_t read_plain(PackedBytes *bytes, char *to, size_t size)
{
    ssize_t got;
    do
        got = read(bytes->descriptor, to, size);
    while (got < 0 && errno == EINTR);
    if (got < 0)
        complain(bytes->name, 0, "cannot be read: %s", strerror(errno));
    return got;
}

/* Reads more raw bytes behind those that are there. */
static ssize_t read_raw(PackedBytes *bytes)
{
    ssize_t got = read_plain(bytes, bytes->raw + bytes->length, RAW_SIZE - bytes->length);
    bytes->length += got > 0 ? (size_t)got : 0;
    return got;
}

/* Sections 3.1.1 and 3.1.2 of the RFC: a frame, or one that is to be skipped. */
static bool is_packed(const PackedBytes *bytes)
{
    static const unsigned char frame[MARK_SIZE] = {0x28, 0xB5, 0x2F, 0xFD}, skipped[] = {0x2A, 0x4D, 0x18};
    if (bytes->length < MARK_SIZE)
        return false;
    return memcmp(bytes->raw, frame, MARK_SIZE) == 0 ||
           ((bytes->raw[0] & 0xF0) == 0x50 && memcmp(bytes->raw + 1, skipped, sizeof skipped) == 0);
}

static bool begin(PackedBytes *bytes)
{
    ssize_t got = 1;
    bytes->begun = true;
    bytes->length = 0;
    bytes->raw = malloc(RAW_SIZE);
    while (bytes->raw != NULL && bytes->length < MARK_SIZE && got > 0)
        got = read_raw(bytes);
    if (got < 0)
        return false;
    bool packed = bytes->raw != NULL && is_packed(bytes);
    if (packed)
        bytes->unpacker = ZSTD_createDCtx();
    if (bytes->raw != NULL && packed == (bytes->unpacker != NULL))
        return true;
    complain(bytes->name, 0, "memory ran out");
    return false;
}

static ssize_t unpack(PackedBytes *bytes, char *to, size_t size)
{
    ZSTD_outBuffer out = {to, size, 0};
    while (out.pos == 0) {
        ZSTD_inBuffer in = {bytes->raw, bytes->length, bytes->at};
        size_t wanted = ZSTD_decompressStream(bytes->unpacker, &out, &in);
        if (ZSTD_isError(wanted)) {
            complain(bytes->name, 0, "cannot be uncompressed: %s", ZSTD_getErrorName(wanted));
            return -1;
        }
        /* Without anything new, it asks for a frame that need not be there. */
        if (in.pos > bytes->at || out.pos > 0)
            bytes->within_frame = wanted > 0;
        bytes->at = in.pos;
        if (out.pos > 0 || bytes->at < bytes->length)
            continue;
        bytes->at = bytes->length = 0;
        ssize_t got = read_raw(bytes);
        if (got == 0 && bytes->within_frame)
            complain(bytes->name, 0, "ends within its compressed part; expected the whole file");
        if (got <= 0)
            return bytes->within_frame ? -1 : got;
    }
    return (ssize_t)out.pos;
}

ssize_t packed_read(PackedBytes *bytes, char *to, size_t size)
{
    if (!bytes->begun && !begin(bytes))
        return -1;
    if (bytes->unpacker != NULL)
        return unpack(bytes, to, size);
    if (bytes->at == bytes->length)
        return read_plain(bytes, to, size);
    size_t left = bytes->length - bytes->at, taken = left < size ? left : size;
    memcpy(to, bytes->raw + bytes->at, taken);
    bytes->at += taken;
    return (ssize_t)taken;
}
