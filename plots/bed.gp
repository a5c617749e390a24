# SPDX-License-Identifier: GPL-3.0-or-later
#
# Beds in their wash over temperature: for each group of filters the rates that lift and expand it, and below how far the
# scenario's backwash expands it. Told:
#   wr_groups, wr_group[]                      groups shown, their filters
#   wr_wanted                                  wanted expansion, percent
#   wr_rate, wr_rate_text, wr_rate_unit        the backwash
#   wr_coldest, wr_warmest, wr_warmth_unit     temperatures of the wash water
#   $bed                                       a block a group: temperature, rate that lifts, rates for the wanted expansion and expansion
#                                              in percent, each by Ergun and by Dharmarajah and Cleasby

panels = 2 * wr_groups
wr_lines = (wr_term eq 'dumb' ? 8 : 9) + (wr_term eq 'dumb' ? 13 : 11) * panels
load 'style.gp'
foot_lines = is_text ? 4.5 : 4.6 # the axis has a title

set label 1 'What lifts the bed, and how far the wash expands it'
set label 2 wr_plant . '  |  ' . (is_text ? '' : 'shaded: temperatures of the wash water; ') . 'two laws of expansion, which differ'
set lmargin at screen is_text ? 0.24 : 0.17
set format x ''
set xrange [*:*] noextend

set multiplot
do for [p = 1:panels] {
    g = int((p + 1) / 2)
    set tmargin at screen panel_top(p, panels)
    set bmargin at screen panel_foot(p, panels) + (p < panels ? line(0) - line(0.6) : 0)
    is_rates = p % 2 == 1
    set format x (p < panels ? '' : '%g')
    if (p == panels) {
        set xlabel 'temperature of the wash water, ' . wr_warmth_unit offset 0, 0.3
    }
    set label 4 (is_rates ? wr_group[g] : '') at screen left_edge, panel_top(p, panels) - (line(0) - line(0.8)) left
    set label 5 (is_rates ? 'rate,' : 'expansion') at screen left_edge, panel_middle(p, panels) left
    set label 6 (is_rates ? wr_rate_unit : 'at ' . wr_rate_text) at screen left_edge, \
        panel_middle(p, panels) - (line(0) - line(1)) left font small
    unset object 1
    if (!is_text) {
        set object 1 rectangle from wr_coldest, graph 0 to wr_warmest, graph 1 behind fillcolor rgb c_light \
            fillstyle solid 1 border linecolor rgb c_light
    }
    set yrange [0:*]
    set ytics autofreq
    set arrow 1 from wr_coldest, graph 0 to wr_coldest, graph 1 nohead back linewidth 2 linecolor rgb c_light
    set key at graph 0.995, graph (is_rates ? 0.04 : 0.98) right vertical samplen 3 font small
    eval(is_rates ? 'set key bottom' : 'set key top')
    set format y (is_rates ? '%g' : '%g %%')
    if (p == 2) {
        eval(head_off)
    }
    if (is_rates) {
        plot $bed index g - 1 using 1:2 with lines linewidth 3 linecolor rgb c_blue title 'lifts the coarse grains', \
             $bed index g - 1 using 1:3 with lines linewidth 2 dashtype (10, 4) linecolor rgb c_orange \
                 title sprintf('expands it by %g %%, Ergun', wr_wanted), \
             $bed index g - 1 using 1:4 with lines linewidth 2 dashtype (3, 3) linecolor rgb c_green \
                 title sprintf('expands it by %g %%, Dharmarajah and Cleasby', wr_wanted), \
             wr_rate with lines linewidth 2 linecolor rgb c_red title 'backwash'
    } else {
        plot $bed index g - 1 using 1:5 with lines linewidth 2 dashtype (10, 4) linecolor rgb c_orange title 'by Ergun', \
             $bed index g - 1 using 1:6 with lines linewidth 2 dashtype (3, 3) linecolor rgb c_green \
                 title 'by Dharmarajah and Cleasby'
    }
}
unset multiplot
