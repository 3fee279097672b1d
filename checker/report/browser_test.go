package report

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"corerod/checker/change"
	"corerod/checker/report/reporttest"
)

// inBrowser does something in a headless browser; the test is skipped where there is none. Where the browser itself fails,
// on a machine that is too busy for it, a second one is tried: what is checked is not.
func inBrowser(t *testing.T, do func(ctx context.Context) error) {
	t.Helper()
	err := do(browser(t))
	if err != nil {
		t.Log("once more, in another browser:", err)
		err = do(browser(t))
	}
	if err != nil {
		t.Fatal(err)
	}
}

// browser starts a headless browser.
func browser(t *testing.T) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("the browser is left to the long tests")
	}
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil && path == "" {
			path = p
		}
	}
	if path == "" {
		t.Skip("no chromium here; .ci/run installs it")
	}
	o := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-dev-shm-usage", true))
	ctx, stop := chromedp.NewExecAllocator(context.Background(), o...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	ctx, stop = context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(stop)
	return ctx
}

// watched collects what a page says on the console and asks for.
type watched struct{ console, requests []string }

func watch(ctx context.Context) *watched {
	w := &watched{}
	chromedp.ListenTarget(ctx, func(ev any) {
		switch e := ev.(type) {
		case *runtime.EventConsoleAPICalled:
			w.console = append(w.console, string(e.Type))
		case *runtime.EventExceptionThrown:
			w.console = append(w.console, e.ExceptionDetails.Text)
		case *log.EventEntryAdded:
			w.console = append(w.console, e.Entry.Text)
		case *network.EventRequestWillBeSent:
			w.requests = append(w.requests, e.Request.URL)
		}
	})
	return w
}

// pages writes the sheets of the demo parts, and one with every hostile text, and the front page.
func pages(t *testing.T) (dir string, names []string) {
	t.Helper()
	texts := map[string]string{"hostile.yaml": reporttest.HostilePart}
	for name, text := range reporttest.DemoParts(t) {
		if strings.Contains(name, "/mill/") {
			texts[filepath.Base(name)] = text
		}
	}
	r := reporttest.Reviewed(t, texts, change.Options{Changes: 3})
	dir = t.TempDir()
	write := func(name string, b []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
		names = append(names, name)
	}
	for _, p := range r.Parts {
		var b bytes.Buffer
		if err := Sheet(&b, r, p); err != nil {
			t.Fatal(err)
		}
		write(strings.TrimSuffix(p.File, ".yaml")+".html", b.Bytes())
	}
	var b bytes.Buffer
	if err := Front(&b, r); err != nil {
		t.Fatal(err)
	}
	write("index.html", b.Bytes())
	return dir, names
}

// contrast is a script that lists texts whose contrast with what is behind them is under 4.5.
const contrast = `(() => {
  const rgb = s => (s.match(/[\d.]+/g) || []).map(Number);
  const lum = c => { const f = c.slice(0,3).map(v => { v /= 255; return v <= 0.03928 ? v/12.92 : Math.pow((v+0.055)/1.055, 2.4) }); return 0.2126*f[0]+0.7152*f[1]+0.0722*f[2] };
  const behind = e => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] > 0) return c } return [255,255,255] };
  const bad = [];
  for (const e of document.querySelectorAll('body *')) {
    if (![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
    const s = getComputedStyle(e), ink = rgb(e.namespaceURI.endsWith('svg') ? s.fill : s.color);
    const a = lum(ink), b = lum(behind(e)), k = (Math.max(a,b)+0.05)/(Math.min(a,b)+0.05);
    if (k < 4.5) bad.push(e.tagName + ': ' + e.textContent.trim().slice(0,30) + ' ' + k.toFixed(2));
  }
  return bad.join('; ');
})()`

// TestPages: in a real browser each page says nothing on the console and asks for nothing but itself, is readable in light and
// dark, and does not scroll sideways on a narrow screen.
func TestPages(t *testing.T) {
	dir, names := pages(t)
	inBrowser(t, func(ctx context.Context) error { return checkPages(t, ctx, dir, names) })
}

func checkPages(t *testing.T, ctx context.Context, dir string, names []string) error {
	w := watch(ctx)
	if err := chromedp.Run(ctx, network.Enable(), log.Enable(), runtime.Enable()); err != nil {
		return err
	}
	for _, name := range names {
		url := "file://" + filepath.Join(dir, name)
		w.console, w.requests = nil, nil
		for _, scheme := range []string{"light", "dark"} {
			var bad string
			var wide float64
			err := chromedp.Run(ctx,
				emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}),
				chromedp.EmulateViewport(360, 740),
				chromedp.Navigate(url),
				chromedp.Evaluate(`document.querySelectorAll('details').forEach(d => d.open = true)`, nil),
				chromedp.Evaluate(`document.documentElement.scrollWidth`, &wide),
				chromedp.Evaluate(contrast, &bad),
			)
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			if wide > 360 {
				t.Errorf("%s scrolls sideways: %g pixels wide", name, wide)
			}
			if bad != "" {
				t.Errorf("%s, %s: little contrast: %s", name, scheme, bad)
			}
		}
		if len(w.console) > 0 {
			t.Errorf("%s says %q", name, w.console)
		}
		for _, r := range w.requests {
			if r != url {
				t.Errorf("%s asks for %s", name, r)
			}
		}
	}
	return nil
}

// TestPagesByKeyboard: a balloon leads to its finding and the finding back to the balloon, by the keyboard alone.
func TestPagesByKeyboard(t *testing.T) {
	dir, _ := pages(t)
	inBrowser(t, func(ctx context.Context) error { return checkKeyboard(t, ctx, dir) })
}

func checkKeyboard(t *testing.T, ctx context.Context, dir string) error {
	var first, there, back string
	err := chromedp.Run(ctx,
		chromedp.EmulateViewport(1000, 800),
		chromedp.Navigate("file://"+filepath.Join(dir, "pawl.html")),
		chromedp.KeyEvent(kb.Tab),
		chromedp.Evaluate(`document.activeElement.getAttribute('href')`, &first),
		chromedp.KeyEvent(kb.Enter),
		chromedp.Sleep(200*time.Millisecond),
		chromedp.Evaluate(`location.hash + ' ' + document.querySelector(':target').querySelector('h3').textContent`, &there),
		chromedp.KeyEvent(kb.Tab),
		chromedp.KeyEvent(kb.Enter),
		chromedp.Sleep(200*time.Millisecond),
		chromedp.Evaluate(`location.hash + ' ' + document.querySelector(':target').getAttribute('href')`, &back),
	)
	if err != nil {
		return err
	}
	if first != "#finding-1" || !strings.HasPrefix(there, "#finding-1 1 change wall thickness") || back != "#balloon-1 #finding-1" {
		t.Errorf("%q, then %q, then %q", first, there, back)
	}
	return nil
}

// TestPagesPrint: pages print on A4 and Letter, nothing cut off on the right.
func TestPagesPrint(t *testing.T) {
	dir, names := pages(t)
	inBrowser(t, func(ctx context.Context) error { return checkPrint(t, ctx, dir, names) })
}

func checkPrint(t *testing.T, ctx context.Context, dir string, names []string) error {
	for _, name := range names {
		for _, paper := range [][2]float64{{8.27, 11.69}, {8.5, 11}} {
			var pdf []byte
			var cut string
			width := int64((paper[0] - 2*14/25.4) * 96)
			err := chromedp.Run(ctx,
				emulation.SetEmulatedMedia().WithMedia("print"),
				chromedp.EmulateViewport(width, 1000),
				chromedp.Navigate("file://"+filepath.Join(dir, name)),
				chromedp.Evaluate(
					fmt.Sprintf(`[...document.querySelectorAll('table,svg,td,th')].filter(e => e.getBoundingClientRect().right > `+
						`%d).map(e => e.tagName + ' ' + e.textContent.slice(0,20)).join('; ')`, width), &cut),
				chromedp.ActionFunc(func(ctx context.Context) (err error) {
					pdf, _, err = cdppage.PrintToPDF().WithPaperWidth(paper[0]).WithPaperHeight(paper[1]).Do(ctx)
					return err
				}),
			)
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			if cut != "" {
				t.Errorf("%s on %v: cut off: %s", name, paper, cut)
			}
			if n := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1)); n == 0 || n > 12 {
				t.Errorf("%s on %v: %d pages", name, paper, n)
			}
		}
	}
	return nil
}
