# Least distances between walls of the part files beside it, by a general-purpose solid kernel: Debian's occt-draw.
# Run: occt-draw-7.6 -b -f distances.tcl | grep ^= > distances.txt   One line each: part, wall, distance in mm.
pload MODELING
proc draw {args} { uplevel #0 $args }
proc ring {name x y r} { draw circle c_$name $x $y 0 0 0 1 $r; draw mkedge e_$name c_$name; draw prism $name e_$name 0 0 5 }
proc wall {name args} { eval draw polyline w_$name $args; draw prism $name w_$name 0 0 5 }
# A box of a length and width about a point, turned by degrees about the origin.
proc box4 {name x y l w turn} {
  set a [expr {$turn * acos(-1) / 180}]
  set c [expr {cos($a)}]
  set s [expr {sin($a)}]
  set points {}
  foreach {i j} {-1 -1 1 -1 1 1 -1 1 -1 -1} {
    set u [expr {$i * $l / 2.0}]
    set v [expr {$j * $w / 2.0}]
    lappend points [expr {$x + $u * $c - $v * $s}] [expr {$y + $u * $s + $v * $c}] 0
  }
  eval wall $name $points
}
proc say {part name a b less} { draw distmini d $a $b; puts [format "= %s, %s, %.12g" $part $name [expr {[draw dval d_val] - $less}]] }
proc between {part name a b} { say $part $name $a $b 0 }

ring outside 0 0 20; ring bore 2 0 15
between eccentric "bore to ring" bore outside
ring left -12 0 3; ring right 11 3 4; box4 plate 0 0 40 25 0
between plate "left to plate" left plate
between plate "plate to right" right plate
# The slot's wall is a stadium: two lines and two half circles; its distance is that of its axis less its radius.
set a [expr {25 * acos(-1) / 180}]
vertex va [expr {-4.5 * cos($a)}] [expr {-6 - 4.5 * sin($a)}] 0
vertex vb [expr {4.5 * cos($a)}] [expr {-6 + 4.5 * sin($a)}] 0
edge axis va vb
say plate "left to slit" axis left 1.5
say plate "right to slit" axis right 1.5
ring hub 0 0 15; ring flange 0 0 24; ring bolt 19.5 0 2.1; ring bolt2 0 19.5 2.1; box4 keyway 0 8.6 5 3.3 0; ring bore 0 0 8
between flanged-hub "hub to keyway" hub keyway
between flanged-hub "bolts to flange" bolt flange
between flanged-hub "bolts to bore" bolt bore
between flanged-hub "bolts to keyway" bolt2 keyway
box4 block 0 0 24 18 10; ring hole 2 -1 4.5
between blind "block to hole" block hole
wall ell 0 0 0 30 0 0 30 8 0 9 8 0 9 25 0 0 25 0 0 0 0
vertex inner 9 8 0; wall south 0 0 0 30 0 0
between ell "ell to ell" inner south
