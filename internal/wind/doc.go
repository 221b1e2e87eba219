// Package wind turns apparent wind into true and back, and keeps what is believed
// about the true wind over the water: where it comes from, how strong it is, how
// sure that is and how old.
//
// New makes an Estimator. Fix tells it what a person or a meter says, Instruments
// what the boat's own sensors show, Motion how she moves, At asks what to believe.
// It refuses what cannot be meant (a direction without a reference it can use, a
// boat at speed said to lie head to wind) with a sentence for the person, and it
// says that the wind is not known rather than give an old or two-sided guess for a
// fact.
//
// Directions are where the wind comes from, degrees true, 0 to 360; angles are off
// the bow, -180 to 180, starboard positive; speeds are knots.
package wind
