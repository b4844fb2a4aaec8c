/* What is in the file of a run: the SQL text in store_schema.c is its manual. */
#ifndef PAWNVANE_STORE_SCHEMA_H
#define PAWNVANE_STORE_SCHEMA_H

#include "bench/base/database.h"

/* What a file turned out to be. */
typedef enum SchemaState { SCHEMA_EMPTY, SCHEMA_PRESENT, SCHEMA_FOREIGN } SchemaState;

/* Looks whether the database is empty or of this schema. Anything else is foreign, and so is a file that
 * cannot be read (reported). */
SchemaState schema_look(const Database *database);

/* Makes the tables in an empty database. */
bool schema_create(const Database *database);

#endif
