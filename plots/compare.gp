# SPDX-License-Identifier: GPL-3.0-or-later
#
# Plants side by side: what each can promise, and what stops it. Told:
#   wr_plants, wr_town[]   plants, with their letters, titles and names
#   wr_unit                unit of flows
#   $capacities            plant, kind (0 filter firm, 1 plant firm, 2 maximum day), flow, words

wr_lines = wr_term eq 'dumb' ? 9 + 7 * wr_plants : 9 + 5 * wr_plants
load 'style.gp'

set label 1 'Side by side: what each can promise on every day, in ' . wr_unit
set label 2 'Filter firm: the largest filter out. Plant firm: whichever one unit is missed most out. Not an approved or guaranteed capacity.'
set tmargin at screen line(is_text ? 4 : 3.4)
set bmargin at screen line(wr_lines - (is_text ? 4 : 3.2))
set lmargin at screen is_text ? 0.14 : 0.11
set rmargin at screen is_text ? 0.6 : 0.66
stats $capacities using 3 nooutput
set xrange [0:STATS_max > 0 ? 1.02 * STATS_max : 1]
set xtics autofreq
set format x '%g'
slots = 4.6
set yrange [slots * wr_plants - 0.6:-1.2]
place(p, k) = (p - 1) * slots + k
array kind[3] = ['filter firm', 'plant firm', 'maximum day']
set ytics ()
do for [p = 1:wr_plants] {
    do for [k = 0:2] {
        set ytics add (kind[k + 1] place(p, k))
    }
    set label 10 + p wr_town[p] at graph 0, first place(p, -0.85) left
}
# The middle of a bar, if it is of this kind.
middle(kind, flow, wanted) = kind == wanted ? flow / 2 : NaN
if (is_text) {
    plot $capacities using (0):(place($1, $2)):3:(0) with vectors nohead, \
         $capacities using 3:(place($1, $2)):(stringcolumn(4)) with labels left offset 1, 0
} else {
    plot $capacities using (middle($2, $3, 0)):(place($1, $2)):(0):3:(place($1, $2) - 0.38):(place($1, $2) + 0.38) \
             with boxxyerror fillstyle solid 1 border linecolor rgb c_blue linecolor rgb c_blue, \
         $capacities using (middle($2, $3, 1)):(place($1, $2)):(0):3:(place($1, $2) - 0.38):(place($1, $2) + 0.38) \
             with boxxyerror fillstyle pattern 4 border linecolor rgb c_blue linecolor rgb c_blue, \
         $capacities using (middle($2, $3, 2)):(place($1, $2)):(0):3:(place($1, $2) - 0.38):(place($1, $2) + 0.38) \
             with boxxyerror fillstyle empty border linecolor rgb c_red linewidth 2 linecolor rgb c_red, \
         $capacities using 3:(place($1, $2)):(stringcolumn(4)) with labels left offset 0.5, 0
}
