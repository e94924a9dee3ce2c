/* SPDX-License-Identifier: MIT
 * board_style: how the board looks: by day and by night as the reader's device has it, in one column
 * on a phone, and on paper without grounds. Stages are told by their words; colour only helps. */
#ifndef METERPOST_DAEMON_BOARD_BOARD_STYLE_H
#define METERPOST_DAEMON_BOARD_BOARD_STYLE_H

#define BOARD_STYLE                                                                                \
    ":root{color-scheme:light dark;--ground:#f6f4ee;--card:#fffdf8;--ink:#22261f;--faint:#5d6457;" \
    "--line:#d5d0c2;--overdue:#a3202c;--due:#a84b00;--soon:#7a6200;--fine:#2c6a3f;--rest:#55606b}" \
    "\n"                                                                                           \
    "@media(prefers-color-scheme:dark){:root{--ground:#171a16;--card:#20241f;--ink:#e9ebe2;"       \
    "--faint:#a5ad9c;--line:#3c4239;--overdue:#ff8d8f;--due:#ffae6b;--soon:#e5cd5a;"               \
    "--fine:#86cf9a;--rest:#a9b4bf}}\n"                                                            \
    "*{box-sizing:border-box}\n"                                                                   \
    "body{margin:0 auto;padding:1rem;max-width:76rem;background:var(--ground);color:var(--ink);"   \
    "font:1rem/1.4 system-ui,sans-serif;overflow-wrap:anywhere}\n"                                 \
    "h1{font-size:1.5rem;margin:0}h2{font-size:1.25rem;margin:0}h3{font-size:1rem;margin:.9rem 0 " \
    "0}\n"                                                                                         \
    "p,ul{margin:.3rem 0}.faint{color:var(--faint)}\n"                                             \
    ".sum{display:flex;flex-wrap:wrap;gap:.4rem 1.2rem;list-style:none;padding:0;margin:.8rem "    \
    "0}\n"                                                                                         \
    ".sum b{font-size:1.25rem}\n"                                                                  \
    ".yard{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,21rem),1fr));"      \
    "gap:1rem}\n"                                                                                  \
    "article{background:var(--card);border:1px solid var(--line);border-left:.5rem solid "         \
    "var(--stage);border-radius:.3rem;padding:.8rem;break-inside:avoid}\n"                         \
    ".overdue{--stage:var(--overdue)}.due,.no-record{--stage:var(--due)}"                          \
    ".coming-up{--stage:var(--soon)}.fine{--stage:var(--fine)}"                                    \
    ".parked,.unread{--stage:var(--rest)}\n"                                                       \
    ".trouble{list-style:none;padding:0}.danger{color:var(--overdue);font-weight:700}\n"           \
    ".word{color:var(--stage);font-weight:700}.word,.day{white-space:nowrap}\n"                    \
    "svg{display:block;width:100%;margin-top:.5rem}.bar{height:.6rem}\n"                           \
    ".all{fill:var(--line)}.run{fill:var(--stage)}\n"                                              \
    ".plot{font-size:22px;fill:var(--faint)}.plot path,.plot polyline{fill:none}\n"                \
    ".axis{stroke:var(--line);stroke-width:2}\n"                                                   \
    ".level{stroke:var(--due);stroke-width:2;stroke-dasharray:10 8}\n"                             \
    ".hours{stroke:var(--ink);stroke-width:4;stroke-linejoin:round}.last{fill:var(--ink)}\n"       \
    "@media print{:root{color-scheme:light;--ground:#fff;--card:#fff;--ink:#000;--faint:#333;"     \
    "--line:#999;--overdue:#000;--due:#000;--soon:#000;--fine:#000;--rest:#000}"                   \
    "body{padding:0;font-size:.8rem;max-width:none}"                                               \
    "svg{print-color-adjust:exact;-webkit-print-color-adjust:exact}"                               \
    ".yard{grid-template-columns:1fr 1fr}}\n"

#endif
