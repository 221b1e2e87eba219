package web_test

import (
	"context"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

func typed(sel, words string) chromedp.Action { return chromedp.SendKeys(sel, words, chromedp.ByQuery) }

func key(name string) chromedp.Action {
	return chromedp.KeyEvent(map[string]string{"Enter": kb.Enter, "Tab": kb.Tab}[name])
}

// press puts a finger on the left part of a control, holds it, slides it right
// by a share of the control's width and lets go.
func press(sel string, hold time.Duration, slide float64) chromedp.Action {
	return chromedp.ActionFunc(func(ctx context.Context) error {
		var box struct{ X, Y, W, H float64 }
		if err := chromedp.Evaluate(`(() => { const e = document.querySelector('`+sel+`'); e.scrollIntoView({block: 'center'});
			const r = e.getBoundingClientRect(); return {X: r.left, Y: r.top, W: r.width, H: r.height}; })()`, &box).Do(ctx); err != nil {
			return err
		}
		x, y := box.X+0.15*box.W, box.Y+box.H/2
		mouse := func(kind input.MouseType, x float64) error {
			return input.DispatchMouseEvent(kind, x, y).WithButton(input.Left).WithButtons(1).WithClickCount(1).Do(ctx)
		}
		if err := mouse(input.MousePressed, x); err != nil {
			return err
		}
		if err := chromedp.Sleep(hold).Do(ctx); err != nil {
			return err
		}
		for i := 1; i <= 6 && slide > 0; i++ {
			if err := mouse(input.MouseMoved, x+slide*box.W*float64(i)/6); err != nil {
				return err
			}
			if err := chromedp.Sleep(20 * time.Millisecond).Do(ctx); err != nil {
				return err
			}
		}
		return mouse(input.MouseReleased, x+slide*box.W)
	})
}
