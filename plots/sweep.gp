# SPDX-License-Identifier: GPL-3.0-or-later
#
# Figures of a sweep over its first axis, a line for each combination of the others. Told:
#   wr_x                               the axis with its unit
#   wr_names, $names                   how many values are names and not numbers; place and value of each
#   wr_panels, wr_panel[]              figures, each in a panel
#   wr_series, wr_series_all, wr_serie[]   combinations of the other axes shown, all there are, their values
#   $rows                              place on the axis, combination, 1 passes, then the figures

wr_lines = (wr_term eq 'dumb' ? 8 : 9) + (wr_term eq 'dumb' ? 13 : 11) * wr_panels
load 'style.gp'

set label 1 'What moves with ' . wr_x
set label 2 wr_plant . '  |  in SI units; filled: passes, empty: fails'
eval(left_out(wr_series, wr_series_all, 'combinations'))
array shape[6] = [7, 5, 9, 11, 13, 15]
array hollow[6] = [6, 4, 8, 10, 12, 14]
array shade[6] = [c_blue, c_red, c_green, c_purple, c_orange, c_black]

set lmargin at screen 0.11
set rmargin at screen 0.96
stats $rows using 1 nooutput
reach = STATS_max > STATS_min ? STATS_max - STATS_min : 1
set xrange [STATS_min - 0.03 * reach:STATS_max + 0.03 * reach]
set multiplot
do for [f = 1:wr_panels] {
    set tmargin at screen line(head_lines + 1.2 + (wr_lines - head_lines - 5.2) * (f - 1.0) / wr_panels)
    set bmargin at screen line(head_lines + (wr_lines - head_lines - 5.2) * f / wr_panels - (f < wr_panels ? 0.6 : 0))
    set label 4 wr_panel[f] at graph 0, graph 1 offset 0, 0.7 left
    unset key
    if (f == 1) {
        if (wr_series > 1) {
            eval(key_on)
        }
    } else {
        eval(head_off)
    }
    set format x (f == wr_panels ? '%g' : '')
    if (f == wr_panels) {
        set xlabel wr_x
    }
    if (wr_names > 0) {
        set xtics ()
        do for [v = 1:wr_names] {
            set xtics add (word(v, 1) v)
        }
    }
    plot for [k = 1:wr_series] $rows using ($2 == k ? $1 : NaN):(column(3 + f)) with lines linewidth 1.5 \
             linecolor rgb shade[k] notitle, \
         for [k = 1:wr_series] $rows using ($2 == k && $3 == 1 ? $1 : NaN):(column(3 + f)) with points \
             pointtype shape[k] pointsize 1.2 linecolor rgb shade[k] title wr_serie[k], \
         for [k = 1:wr_series] $rows using ($2 == k && $3 == 0 ? $1 : NaN):(column(3 + f)) with points \
             pointtype hollow[k] pointsize 1.4 linewidth 1.5 linecolor rgb shade[k] notitle
}
unset multiplot
