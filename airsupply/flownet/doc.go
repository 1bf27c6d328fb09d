// Package flownet solves the flows and heads of a network of any shape, trees and loops alike, by the global
// gradient method of Todini and Pilati (1988).
//
// The network knows nothing of what flows: each link has a law that gives its loss and the slope of the loss
// at a flow. Nodes are free (head unknown, inflow equals outflow plus demand) or fixed (head given).
package flownet
