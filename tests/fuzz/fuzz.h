/* SPDX-License-Identifier: MIT
 *
 * What the fuzz targets share. A target is one file NAME_fuzz.c with the function below; libFuzzer calls it with what it
 * thinks up (make fuzz), replay.c with what was kept in fixtures/fuzz/NAME (make check). */
#ifndef METERPOST_TESTS_FUZZ_FUZZ_H
#define METERPOST_TESTS_FUZZ_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* Judges the parser on one input, in a buffer of exactly len octets; ends the program where a
 * property does not hold. The value is 0. */
int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len);

#define PROPERTY(holds)                                                                            \
    do {                                                                                           \
        if (!(holds)) {                                                                            \
            (void)fprintf(stderr, "%s:%d: property broken: %s\n", __FILE__, __LINE__, #holds);     \
            abort();                                                                               \
        }                                                                                          \
    } while (0)

#endif
