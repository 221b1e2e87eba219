// Package ashore works out what a sailor wants to know before going: where the land
// takes the wind today and after the shift that is to come, where there is room to
// practise, how long the light lasts, and what to check.
//
// Look does it all. It promises nothing: a place it calls clear is one about which the
// chart holds nothing against it. It refuses a chart that cannot be read.
package ashore
