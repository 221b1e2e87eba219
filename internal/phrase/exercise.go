package phrase

import "helmcue/internal/boat"

// Exercises returns the texts of exercises: an introduction for each (key intro, by
// the exercise's name) and what came of a try (key result). They are said in quiet
// moments, order nothing now, and come again on two knocks; they were not measured
// in noise. Orders within an exercise use the measured words of the book.
func Exercises() []Entry {
	return append(intros(), results()...)
}

func intros() []Entry {
	return []Entry{
		same(boat.Intro, "stop_and_start", "when clear, let the sheet go and stop, then sail off"),
		same(boat.Intro, "reach_to_and_fro", "sail straight across the wind, tack when clear, and back"),
		same(boat.Intro, "tack_from_reach", "tack from a reach when clear, and let her run after it"),
		same(boat.Intro, "closeness_test", "come up slowly until the luff goes soft, then back a little"),
		same(boat.Intro, "tack_within", "short tacks when clear: speed first, and low after the turn"),
		own(boat.Intro, "square_tacks", "square tacks: look where you will point, then tack when clear",
			"square tacks: I name the heading, you tack when clear"),
		same(boat.Intro, "low_or_close", "low against close: hold what I ask for a minute each"),
		same(boat.Intro, "low_or_close_up", "now close, up by your luff"),
		same(boat.Intro, "hold_course", "hold one course, leave the helm, sheet for speed"),
		same(boat.Intro, "lull_and_gust", "feel the wind: out in the gust, in again in the lull"),
		grown(boat.Intro, "figure_of_eight", "figure of eight past a mark: knock twice if it is clear"),
		grown(boat.Intro, "leg_to_mark", "upwind to a mark in the water: knock twice if it is clear"),
		same(boat.Intro, "gybe", "gybes, only when I say: knock twice if there is room"),
		same(boat.Intro, "on_your_own", "now on your own, I speak only in danger"),
	}
}

func results() []Entry {
	return []Entry{
		same(boat.Result, "counts", "well done, that counts"),
		same(boat.Result, "once_more", "once more, you have time"),
		same(boat.Result, "opened", "well done, next exercise"),
		same(boat.Result, "plan_over", "well sailed, the plan is done"),
		same(boat.Result, "stuck", "next time with more speed"),
		same(boat.Result, "lost_0", "hardly a length lost"),
		same(boat.Result, "lost_1", "one length lost"),
		same(boat.Result, "lost_2", "two lengths lost"),
		same(boat.Result, "lost_3", "three lengths lost"),
		same(boat.Result, "lost_4", "four lengths lost"),
		same(boat.Result, "lost_5", "five lengths lost"),
		same(boat.Result, "lost_more", "more than five lengths lost"),
		same(boat.Result, "closer", "she goes closer than that"),
		same(boat.Result, "as_close", "that is as close as she goes"),
		same(boat.Result, "low_pays", "low was better this time"),
		same(boat.Result, "close_pays", "close was better this time"),
		same(boat.Result, "no_difference", "no difference seen"),
		same(boat.Result, "alone_over", "that part was all yours"),
	}
}
