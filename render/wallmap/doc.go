// Package wallmap draws the water left on a container: its wall unrolled, its top and base as discs.
//
// Areas are true: every row of the wall is as wide as the container is around at that height, so that equal
// patches of colour stand for equal areas. The rear of the container lies in the middle and the wall is cut
// open along its leading side.
package wallmap
