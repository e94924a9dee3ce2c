/* SPDX-License-Identifier: MIT
 * words: the grammar's words, one table a language. A further language is one more table. */
#ifndef METERPOST_PARSERS_WORDS_H
#define METERPOST_PARSERS_WORDS_H

#endif
