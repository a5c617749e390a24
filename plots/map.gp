# SPDX-License-Identifier: GPL-3.0-or-later
#
# Which of two numbers together pass, with the boundary traced. Told:
#   wr_x, wr_y                     the numbers with their units
#   wr_judged                      by which run the plant is judged
#   wr_now_x, wr_now_y             as the scenario stands
#   wr_least_x, wr_most_x, wr_least_y, wr_most_y, wr_columns, wr_rows
#   $cells                         x, y, 1 passes, 0 fails, -1 the scenario does not allow it
#   $boundary                      x, y, number of the limit on the failing side
#   $lines                         pieces of the boundary
#   wr_limits, wr_limit[]          words of limits

wr_lines = (wr_term eq 'dumb' ? 34 : 36) + wr_limits
load 'style.gp'

set label 1 'Which of two numbers together pass: ' . wr_plant
set label 2 'Judged by ' . wr_judged . '. Shaded: passes.'
set tmargin at screen line(is_text ? 4 : 4.2)
set bmargin at screen line(wr_lines - 5.6 - wr_limits * (is_text ? 1 : 1.1))
set lmargin at screen 0.09
set rmargin at screen 0.97
set xlabel wr_x
set ylabel wr_y
dx = wr_columns > 1 ? (wr_most_x - wr_least_x) / (wr_columns - 1.0) / 2 : 0.5
dy = wr_rows > 1 ? (wr_most_y - wr_least_y) / (wr_rows - 1.0) / 2 : 0.5
set xrange [wr_least_x - dx:wr_most_x + dx]
set yrange [wr_least_y - dy:wr_most_y + dy]
set border 15

# Point types that differ in shape, for limits in the order in which the boundary meets them.
array shape[6] = [7, 5, 9, 11, 13, 2]
array shade[6] = [c_blue, c_red, c_green, c_purple, c_orange, c_black]
most = wr_limits < 6 ? wr_limits : 6
do for [k = 1:most] {
    set label 20 + k wr_limit[k] at screen 0.11, line(wr_lines - 1.9 - (most - k) * (is_text ? 1 : 1.1)) left front \
        point pointtype shape[k] pointsize 1 linecolor rgb shade[k] offset 1, 0
}
set label 4 'as it stands' at wr_now_x, wr_now_y left front point pointtype 3 pointsize 2 linewidth 2 \
    linecolor rgb c_black offset 1, 0.6

if (is_text) {
    plot $cells using ($3 == 1 ? $1 : NaN):2 with points pointtype 7, \
         $boundary using 1:2 with points pointtype 2
} else {
    plot $cells using ($3 == 1 ? $1 : NaN):2:(dx):(dy) with boxxyerror fillstyle solid 1 noborder linecolor rgb c_light, \
         $cells using ($3 == -1 ? $1 : NaN):2:(dx):(dy) with boxxyerror fillstyle solid 1 noborder linecolor rgb c_faint, \
         $lines using 1:2 with lines linewidth 2 linecolor rgb c_black, \
         for [k = 1:most] $boundary using ($3 == k ? $1 : NaN):2 with points pointtype shape[k] pointsize 1 \
             linecolor rgb shade[k]
}
