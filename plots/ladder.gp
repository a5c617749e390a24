# SPDX-License-Identifier: GPL-3.0-or-later
#
# The demands that a search for the firm capacity tried, but for those that halve the last gap: which pass, and what failed the others. Told:
#   wr_rows, wr_row[]                        rows: 'passes', then the words of limits
#   wr_unit                                  of demands
#   wr_unit_out                              the filter out of service
#   wr_firm, wr_firm_text, wr_maximum_day, wr_maximum_day_text
#   wr_low_flow                              how many of $out fail at a low flow
#   $out, $all                               demand, row, 0 passes, 1 fails, 2 fails at a low flow

wr_lines = (wr_term eq 'dumb' ? 16 : 13) + (wr_term eq 'dumb' ? 4 : 3) * wr_rows
load 'style.gp'

set label 1 'Demands tried, and what each failed by: ' . wr_unit_out . ' out of service, and all in service'
set tmargin at screen line(is_text ? 6 : 6.4)
set bmargin at screen line(wr_lines - (is_text ? 5 : 4.4))
set xlabel 'demand on every day of a repeated maximum day, ' . wr_unit
set xrange [0:*]
set yrange [0.4:wr_rows + 0.8]
set lmargin at screen 0.03
unset ytics
set border 1

level(r) = wr_rows + 1 - r
do for [r = 1:wr_rows] {
    set label 10 + r wr_row[r] at graph 0.002, first level(r) + 0.52 left front
    set arrow 10 + r from graph 0, first level(r) to graph 1, first level(r) nohead back linecolor rgb c_faint
}
set arrow 1 from wr_firm, graph 0 to wr_firm, graph 1 nohead linewidth 2 linecolor rgb c_blue
set arrow 2 from wr_maximum_day, graph 0 to wr_maximum_day, graph 1 nohead linewidth 1.5 dashtype (6, 4) \
    linecolor rgb c_red
firm_right = wr_firm < wr_maximum_day
gap = is_text ? 2 : 0.5
set label 5 'firm ' . wr_firm_text at first wr_firm, graph 1 offset (firm_right ? -gap : gap), 0.6 textcolor rgb c_blue
set label 6 'maximum day ' . wr_maximum_day_text at first wr_maximum_day, graph 1 \
    offset (firm_right ? gap : -gap), 0.6 textcolor rgb c_red
if (firm_right) {
    set label 5 right
    set label 6 left
} else {
    set label 5 left
    set label 6 right
}
eval(key_on)
plot $out using 1:(level($2) + 0.1) with points pointtype 7 pointsize 1.4 linecolor rgb c_blue \
         title wr_unit_out . ' out', \
     $all using 1:(level($2) - 0.15) with points pointtype 4 pointsize 1.2 linewidth 1.5 linecolor rgb c_black \
         title 'all in service', \
     $out using 1:($3 == 2 ? level($2) + 0.1 : NaN) with points pointtype 6 pointsize 2.4 linecolor rgb c_red \
         title (wr_low_flow > 0 ? 'fails at a low flow' : '')
