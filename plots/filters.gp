# SPDX-License-Identifier: GPL-3.0-or-later
#
# What each filter was doing, waits drawn as waits. Told:
#   wr_filters, wr_filters_all, wr_filter[]    filters shown, all there are, names
#   wr_sums                                    washes and waits in words
#   $serves $stands $rinses $washed $out $rule $system $water $room $head    from, to, filter; wr_NAME is how many
#   $hover                                     time, filter, words for the pointer
#   wr_columns, $characters                    column from 0, filter, letter

wr_lines = wr_term eq 'dumb' ? 11 + 2 * wr_filters : 9 + (wr_filters > 8 ? 2 : 3) * wr_filters
load 'style.gp'

set label 1 'What each filter was doing: ' . wr_sums
set tmargin at screen line(is_text ? 3 : 4.4)
set bmargin at screen line(wr_lines - (is_text ? 6 : 3.2))

row(f) = wr_filters + 1 - f
set yrange [0.45:wr_filters + 0.55]
set ytics ()
letters = 0
do for [f = 1:wr_filters] {
    letters = strlen(wr_filter[f]) > letters ? strlen(wr_filter[f]) : letters
    set ytics add (wr_filter[f] row(f))
}
set lmargin at screen margin_for(letters)
eval(left_out(wr_filters, wr_filters_all, 'filters'))

if (is_text) {
    set label 5 '.  serves    W  is washed    i  rinses at the start    x  out of service    blank  no flow' at screen 0, line(wr_lines - 3)
    set label 6 'waits for:  r  room for spent wash   w  wash water   s  the wash system   -  a rule of the plant' \
        at screen 0, line(wr_lines - 2)
    at_column(c) = wr_from + (c + 0.5) / wr_columns * (wr_until - wr_from)
    plot $characters using (at_column($1)):(row($2)):(stringcolumn(3)) with labels
} else {
    eval(key_on)
    # Serving is thin and pale, a wash tall and dark, a wait in between, hatched but for the wash system; out of service is an
    # empty frame.
    plot $stands using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.03):(row($3) + 0.03) with boxxyerror \
             linecolor rgb c_grey title (wr_stands > 0 ? 'no flow' : ''), \
         $serves using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.16):(row($3) + 0.16) with boxxyerror \
             linecolor rgb c_light title (wr_serves > 0 ? 'serves' : ''), \
         $rinses using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.22):(row($3) + 0.22) with boxxyerror \
             fillstyle solid 1 border linecolor rgb c_green linecolor rgb c_yellow \
             title (wr_rinses > 0 ? 'rinses at start' : ''), \
         $out using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.28):(row($3) + 0.28) with boxxyerror \
             fillstyle empty border linecolor rgb c_black linecolor rgb c_black title (wr_out > 0 ? 'out of service' : ''), \
         $rule using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.26):(row($3) + 0.26) with boxxyerror \
             fillstyle pattern 1 border linecolor rgb c_purple linecolor rgb c_purple title (wr_rule > 0 ? 'waits: own rule' : ''), \
         $system using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.26):(row($3) + 0.26) with boxxyerror \
             fillstyle solid 1 border linecolor rgb c_orange linecolor rgb c_orange title (wr_system > 0 ? 'waits: wash system' : ''), \
         $water using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.26):(row($3) + 0.26) with boxxyerror \
             fillstyle pattern 5 border linecolor rgb c_green linecolor rgb c_green title (wr_water > 0 ? 'waits: wash water' : ''), \
         $room using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.26):(row($3) + 0.26) with boxxyerror \
             fillstyle pattern 4 border linecolor rgb c_red linecolor rgb c_red title (wr_room > 0 ? 'waits: room' : ''), \
         $head using 1:(row($3) + 0.32):($2 - $1):(0) with vectors nohead \
             linewidth 4 linecolor rgb c_black title (wr_head > 0 ? 'at its available head' : ''), \
         $washed using (($1 + $2) / 2):(row($3)):1:2:(row($3) - 0.38):(row($3) + 0.38) with boxxyerror \
             fillstyle solid 1 border linecolor rgb c_blue linecolor rgb c_blue title (wr_washed > 0 ? 'is washed' : ''), \
         $hover using 1:(row($2)):(wr_term eq 'svg' ? stringcolumn(3) : '') with labels hypertext \
             point pointtype 7 pointsize (wr_term eq 'svg' ? 0.4 : 0) linecolor rgb '#ff000000' notitle
}
