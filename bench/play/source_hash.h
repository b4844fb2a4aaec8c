/* Which sources this program was built from; the Makefile writes the definition. */
#ifndef PAWNVANE_SOURCE_HASH_H
#define PAWNVANE_SOURCE_HASH_H

/* 16 hexadecimal digits: the beginning of a SHA-256 over the files that decide how a game goes, which are
 * those of engine/, structure/ and bench/play/. The same whatever the compiler and its options. */
extern const char source_hash[];

#endif
