/* SPDX-License-Identifier: MIT
 * board_style: how the board looks: by day and by night as the reader's device has it; at the desk, in
 * one column on a phone, on paper without grounds, and on the wall. Stages are told by their words; colour
 * only helps. Every ink is at least 7:1 on ground and card (WCAG 2.2, 1.4.6), which board_test.sh
 * reckons. */
#ifndef METERPOST_DAEMON_BOARD_BOARD_STYLE_H
#define METERPOST_DAEMON_BOARD_BOARD_STYLE_H

#define BOARD_STYLE_COLOURS                                                                        \
    ":root{color-scheme:light dark;--ground:#f6f4ee;--card:#fffdf8;--ink:#22261f;--faint:#4a5045;" \
    "--line:#d5d0c2;--overdue:#96202a;--due:#803800;--soon:#5f4b00;--fine:#1d562f;--rest:#434e58}" \
    "\n"                                                                                           \
    "@media(prefers-color-scheme:dark){:root{--ground:#171a16;--card:#20241f;--ink:#e9ebe2;"       \
    "--faint:#b4bbab;--line:#454b42;--overdue:#ff9c9d;--due:#ffb070;--soon:#e5cd5a;"               \
    "--fine:#86cf9a;--rest:#b3bdc7}}\n"                                                            \
    "*{box-sizing:border-box}\n"                                                                   \
    "body{background:var(--ground);color:var(--ink);overflow-wrap:anywhere}\n"                     \
    ".faint{color:var(--faint)}[hidden]{display:none!important}\n"                                 \
    ".overdue{--stage:var(--overdue)}.due,.no-record{--stage:var(--due)}"                          \
    ".coming-up{--stage:var(--soon)}.fine{--stage:var(--fine)}"                                    \
    ".parked,.unread,.rest{--stage:var(--rest)}\n"                                                 \
    ".word{color:var(--stage);font-weight:700;white-space:nowrap}"                                 \
    ".danger{color:var(--overdue);font-weight:700}\n"                                              \
    ".old{background:var(--overdue);color:var(--card);font-weight:700;padding:.5em 1em;"           \
    "border-radius:.3rem}\n"

#define BOARD_STYLE_DESK                                                                           \
    "body{margin:0 auto;padding:1rem;max-width:76rem;font:1rem/1.4 system-ui,sans-serif}\n"        \
    "h1{font-size:1.5rem;margin:0}h2{font-size:1.25rem;margin:0}h3{font-size:1rem;margin:.9rem 0 " \
    "0}\n"                                                                                         \
    "p,ul{margin:.3rem 0}header{margin-bottom:.8rem}.day{white-space:nowrap}\n"                    \
    ".sum{display:flex;flex-wrap:wrap;gap:.4rem 1.2rem;list-style:none;padding:0;margin:.8rem "    \
    "0}\n"                                                                                         \
    ".sum b{font-size:1.25rem}\n"                                                                  \
    ".yard{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,21rem),1fr));"      \
    "gap:1rem;margin-bottom:1.2rem}\n"                                                             \
    "article{background:var(--card);border:1px solid var(--line);border-left:.5rem solid "         \
    "var(--stage);border-radius:.3rem;padding:.8rem;break-inside:avoid}\n"                         \
    ".trouble{list-style:none;padding:0}\n"                                                        \
    "svg{display:block;width:100%;margin-top:.5rem}.bar{height:.6rem}\n"                           \
    ".all{fill:var(--line)}.run{fill:var(--stage)}\n"                                              \
    ".load ol{list-style:none;padding:0;margin:.5rem 0 1.2rem;display:grid;gap:.3rem .5rem;"       \
    "grid-template-columns:repeat(auto-fit,minmax(4.4rem,1fr))}.load li{text-align:center}"        \
    ".load b,.load span{display:block}.column{height:3.5rem}.light{fill:var(--stage);"             \
    "fill-opacity:.4}\n"                                                                           \
    ".plot{font-size:18px;fill:var(--faint)}.plot path,.plot polyline{fill:none}\n"                \
    ".axis{stroke:var(--line);stroke-width:2}\n"                                                   \
    ".level{stroke:var(--due);stroke-width:2;stroke-dasharray:8 6}\n"                              \
    ".plot .cone{fill:var(--stage);fill-opacity:.22}"                                              \
    ".expected{stroke:var(--stage);stroke-width:2;stroke-dasharray:3 4}\n"                         \
    ".hours{stroke:var(--ink);stroke-width:3;stroke-linejoin:round}.last{fill:var(--ink)}\n"       \
    "@media print{:root{color-scheme:light;--ground:#fff;--card:#fff;--ink:#000;--faint:#333;"     \
    "--line:#999;--overdue:#000;--due:#000;--soon:#000;--fine:#000;--rest:#000}"                   \
    "@page{margin:12mm}html{font-size:72%}body{padding:0;max-width:none}"                          \
    "h1{font-size:1.6rem}h2{font-size:1.2rem}h3{margin:.4rem 0 0}p,ul{margin:.15rem 0}"            \
    "svg{print-color-adjust:exact;-webkit-print-color-adjust:exact;margin-top:.25rem}"             \
    ".load{break-inside:avoid}.column{height:2rem}"                                                \
    ".yard{display:block}article{display:grid;grid-template-columns:7fr 3fr;gap:1rem;"             \
    "margin-bottom:.5rem;padding:.4rem .6rem}"                                                     \
    ".plans{display:grid;grid-template-columns:repeat(auto-fit,minmax(14rem,1fr));gap:0 1rem}"     \
    ".old{display:none}}\n"

/* Of several shops: who is left out; and on the wall a line more on each of the worst, and more beside. */
#define BOARD_STYLE_SEVERAL                                                                        \
    ".out{background:var(--overdue);color:var(--card);font-weight:700;padding:.2em 1em;"           \
    "border-radius:.3rem}\n"
#define BOARD_STYLE_WALL_SEVERAL                                                                   \
    ".several li[class]:not(.more){flex-basis:9.6rem}.sum{gap:.6rem}.sum li{padding:.3rem .7rem}"  \
    ".side{font-size:1.75rem;gap:.5rem}\n"

/* A rem is 16 px on 1920 and grows with the screen; no text is below 1.75 rem (28 px). */
#define BOARD_STYLE_WALL                                                                           \
    "html{font-size:calc(100vw/120)}\n"                                                            \
    "body{margin:0;height:100vh;padding:1.25rem 2rem;display:flex;flex-direction:column;"          \
    "gap:1rem;overflow:hidden;font:1.9rem/1.25 system-ui,sans-serif}\n"                            \
    "h1,h2,p,ul,ol{margin:0;padding:0}ul,ol{list-style:none}\n"                                    \
    "header{display:flex;justify-content:space-between;align-items:baseline;gap:2rem}\n"           \
    "h1{font-size:3.25rem;line-height:1.1;white-space:nowrap;overflow:hidden;"                     \
    "text-overflow:ellipsis}header p{font-size:2.25rem;white-space:nowrap}\n"                      \
    "h2{font-size:2rem;line-height:1.2;border-bottom:.15rem solid var(--line)}\n"                  \
    ".sum{display:flex;justify-content:space-between;gap:1rem}\n"                                  \
    ".sum li{flex:auto;background:var(--card);border-bottom:.5rem solid var(--stage);"             \
    "border-radius:.3rem;padding:.3rem 1rem;white-space:nowrap}\n"                                 \
    ".sum b{font-size:4rem;line-height:1.1}\n"                                                     \
    "main{flex:1;min-height:0;display:grid;grid-template-columns:1.6fr 1fr;gap:2rem}\n"            \
    ".worst{display:flex;flex-direction:column;min-width:0;min-height:0}\n"                        \
    ".worst ol{flex:1;min-height:0;display:flex;flex-direction:column;gap:.7rem;"                  \
    "padding-top:.7rem}\n"                                                                         \
    ".worst li[class]:not(.more){display:grid;grid-template-columns:15rem 1fr auto;gap:1.5rem;"    \
    "align-items:center;background:var(--card);border-left:1rem solid var(--stage);"               \
    "border-radius:.3rem;padding:.2rem 1.2rem;flex:0 1 7.2rem;min-height:0}\n"                     \
    ".name{font-size:4rem;line-height:1;white-space:nowrap;overflow:hidden;"                       \
    "text-overflow:ellipsis}.long{font-size:1.9rem;white-space:normal}\n"                          \
    ".title{font-size:2.2rem;white-space:nowrap;overflow:hidden;text-overflow:ellipsis}"           \
    ".worst div{min-width:0}.end{text-align:right}.end .word{font-size:2.2rem}"                    \
    ".tag{white-space:nowrap}\n"                                                                   \
    ".side{display:flex;flex-direction:column;gap:.9rem;min-width:0;min-height:0}\n"               \
    ".side li{margin-top:.25rem;overflow:hidden;white-space:nowrap;text-overflow:ellipsis}\n"      \
    ".side .clamp{white-space:normal;display:-webkit-box;-webkit-box-orient:vertical;"             \
    "-webkit-line-clamp:2;overflow:hidden}\n"                                                      \
    ".more{color:var(--faint)}\n"

#endif
