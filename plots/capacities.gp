# SPDX-License-Identifier: GPL-3.0-or-later
#
# Firm capacities beside nameplate and maximum day, in percent of the nameplate. Told:
#   wr_plants, wr_town[]   plants and their titles
#   $capacities            plant, kind (0 nameplate, 1 filter firm, 2 plant firm, 3 maximum day), percent, words

wr_lines = wr_term eq 'dumb' ? 8 + 12 * wr_plants : 8 + 6 * wr_plants
load 'style.gp'

set label 1 'What can be promised: firm capacities in percent of the nameplate'
set label 2 'With one unit out, on every day of a repeated maximum day. A simulation, not an approved or guaranteed capacity.'
set tmargin at screen line(is_text ? 4 : 3.4)
set bmargin at screen line(wr_lines - (is_text ? 4 : 3.2))
set lmargin at screen is_text ? 0.24 : 0.16
set rmargin at screen is_text ? 0.85 : 0.9
set xrange [0:*]
set xtics autofreq
set format x '%g %%'
slots = 5.5
set yrange [slots * wr_plants - 0.2:-1.2]
place(p, k) = (p - 1) * slots + k
array kind[4] = ['nameplate', 'filter firm', 'plant firm', 'maximum day']
set ytics ()
do for [p = 1:wr_plants] {
    do for [k = 0:3] {
        set ytics add (kind[k + 1] place(p, k))
    }
    set label 10 + p wr_town[p] at graph 0, first place(p, -0.85) left
}
# The middle of a bar, if it is of this kind.
middle(kind, share, wanted) = kind == wanted ? share / 2 : NaN
if (is_text) {
    plot $capacities using (0):(place($1, $2)):3:(0) with vectors nohead, \
         $capacities using 3:(place($1, $2)):(stringcolumn(4)) with labels left offset 1, 0
} else {
    plot $capacities using (middle($2, $3, 0)):(place($1, $2)):(0):3:(place($1, $2) - 0.38):(place($1, $2) + 0.38) \
             with boxxyerror fillstyle solid 1 border linecolor rgb c_grey linecolor rgb c_faint, \
         $capacities using (middle($2, $3, 1)):(place($1, $2)):(0):3:(place($1, $2) - 0.38):(place($1, $2) + 0.38) \
             with boxxyerror fillstyle solid 1 border linecolor rgb c_blue linecolor rgb c_blue, \
         $capacities using (middle($2, $3, 2)):(place($1, $2)):(0):3:(place($1, $2) - 0.38):(place($1, $2) + 0.38) \
             with boxxyerror fillstyle pattern 4 border linecolor rgb c_blue linecolor rgb c_blue, \
         $capacities using (middle($2, $3, 3)):(place($1, $2)):(0):3:(place($1, $2) - 0.38):(place($1, $2) + 0.38) \
             with boxxyerror fillstyle empty border linecolor rgb c_red linewidth 2 linecolor rgb c_red, \
         $capacities using 3:(place($1, $2)):(stringcolumn(4)) with labels left offset 0.5, 0
}
