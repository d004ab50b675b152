package browsertest

import (
	"math"
	"testing"
)

// A link into the midst of a sheet leads there, and nothing moves afterwards.
// What is too wide for its place is reached by keyboard.
func TestEntered(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	inEach(t, func(t *testing.T, p *tab) {
		p.goTo(serve(t, dir) + rc + "recoater.html#tension")
		value[bool](p, "document.fonts.ready.then(() => true)")
		if top := value[float64](p, "document.getElementById('tension').getBoundingClientRect().top"); math.Abs(top) > 2 {
			t.Errorf("the step that a link leads to stands %v px from the top", top)
		}
		if narrow := value[int](p, "Array.from(document.querySelectorAll('main .line, main .code, main .scroll')).filter((e) => e.scrollWidth > e.clientWidth + 1 && e.tabIndex !== 0).length"); narrow > 0 {
			t.Errorf("%d places that scroll are not reached by keyboard", narrow)
		}
	})
}

// Workings open in place, from a folder as from a server: from a figure, from
// there those of what was put in, and back. They open beside all figures at
// once, and from the register of figures, whose workings stand in many files.
func TestWorkingsInPlace(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	inEach(t, func(t *testing.T, p *tab) {
		for _, base := range []string{"file://" + dir, serve(t, dir)} {
			p.goTo(base + rc + "recoater.html")
			const (
				open = "document.querySelector('.pop:popover-open')"
				head = open + " && " + open + ".querySelector('h2').textContent.startsWith"
			)
			p.run("document.querySelector('main .calc a.fig[href$=\"#w/belt.loop\"]').click()")
			p.until(head + "('belt.loop')")
			if !value[bool](p, open+".contains(document.activeElement)") {
				t.Error("the focus stays behind")
			}
			p.run(open + ".querySelector('a[href*=\"#w/belt_pitch\"]').click()")
			p.until(head + "('belt_pitch')")
			p.run(open + ".querySelector('header button').click()")
			p.until(head + "('belt.loop')")
			p.run(open + ".querySelector('header button:last-child').click()")
			p.until("!" + open)
			if !value[bool](p, "document.activeElement.matches('a.fig[href$=\"#w/belt.loop\"]')") {
				t.Error("the focus does not return to the figure")
			}
			// Pressed twice, or another after it, before the file is there: the last
			// one opens, and nothing that it would lead back to.
			for _, press := range []string{"f.click(); f.click()", "document.querySelector('main .calc a.fig').click(); f.click()"} {
				p.goTo(base + rc + "recoater.html")
				p.run("const f = document.querySelector('main .calc a.fig[href$=\"#w/belt.hot\"]'); " + press)
				p.until(head + "('belt.hot')")
				p.until("!document.querySelector('iframe')")
				if n := value[int](p, open+".querySelectorAll('header button').length"); n != 1 {
					t.Errorf("%s: %d keys, want the one that closes", press, n)
				}
				p.run(open + ".hidePopover()")
			}
			if n := value[int](p, "document.querySelectorAll('iframe').length"); n > 0 {
				t.Errorf("%d frames stay behind", n)
			}
			p.run("document.getElementById('show/workings').click()")
			p.until("document.querySelectorAll('.workings.placed').length > 20")
			// One of them may be opened in place as well.
			p.run("document.querySelector('main .calc a.fig[href$=\"#w/belt.hot\"]').click()")
			p.until(head + "('belt.hot')")
			if twice := value[string](p, "Array.from(document.querySelectorAll('[id]'), (e) => e.id).filter((id, i, all) => all.indexOf(id) < i).join()"); twice != "" {
				t.Errorf("two places are called %s", twice)
			}
			p.run(open + ".hidePopover(); document.getElementById('show/workings').click()")
			p.until("!document.querySelector('.workings.placed')")

			p.goTo(base + rc + "figures.html#f/belt.loop")
			p.until(head + "('belt.loop')")
			p.run(open + ".hidePopover(); document.getElementById('f/bay').querySelector('a.fig').click()")
			p.until(head + "('bay')")
			// A drawing's dimensions lead to theirs.
			p.goTo(base + rc + "heaters.html")
			p.run("document.querySelector('main svg a').dispatchEvent(new MouseEvent('click', {bubbles: true, cancelable: true}))")
			p.until(open)
		}
		p.quiet()
	})
}
