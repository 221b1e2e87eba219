// Package force is a small sailing boat as forces: a sail that lifts, stalls and
// flogs, a board and a rudder that do the same under water, a hull that drags and
// makes waves, and a crew's weight against the heel. It knows nothing of learners,
// sensors or coaches.
//
// The calls you need: Of makes a Boat of a length and a rig, Boat.Step moves a State
// by a time step under Controls in a wind, Boat.Settle finds the speed at which she
// settles on a course with a given sheet, Boat.Trim the sheet that drives best there.
//
// The model is of textbook shapes (thin foils with induced drag, flat plates past
// the stall, friction by the ITTC line, waves by Froude number), with coefficients
// from memory where no source stands beside them. It has no pitch, no planing lift and
// no waves of its own, and past a heel of some 60 degrees it is only a capsize.
//
// Units are SI (metres, seconds, kilograms, newtons, radians); angles of wind are
// off the bow, starboard positive; heel is positive with the starboard side down.
package force
