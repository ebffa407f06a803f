package main

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// browser is a headless Chromium that the tests speak to through two pipes, in the DevTools protocol: JSON messages, each ended
// by a zero byte (https://chromedevtools.github.io/devtools-protocol). A hundred lines stand here for a dependency of
// many packages.
type browser struct {
	t       *testing.T
	cmd     *exec.Cmd
	in, out *os.File
	from    *bufio.Reader
	last    int
	session string
	faults  []string // what the console, the log or a request out of the page had to say
	loaded  bool
}

// findChromium gives the browser's program, or skips the test with a line that says what is missing.
func findChromium(t *testing.T) string {
	if raceDetector {
		t.Skip("the race detector has nothing to look for in a browser: this test is for a plain go test")
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("BYHEAD_NEEDS_CHROMIUM") != "" {
		t.Fatal("no Chromium was found, and BYHEAD_NEEDS_CHROMIUM says that there has to be one")
	}
	t.Skip("no Chromium was found: that pages open, scrub and play is not tested (apt-get install chromium)")
	return ""
}

// startBrowser starts a browser with an empty page. It ends with the test.
func startBrowser(t *testing.T) *browser {
	program := findChromium(t)
	profile, err := os.MkdirTemp("", "byhead-chromium-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { // not t.TempDir: a process of the browser that is slow to end may still write there, which fails no test of ours
		for range 50 {
			if os.RemoveAll(profile) == nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
	})
	theirIn, ourOut, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	ourIn, theirOut, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	b := &browser{t: t, in: ourIn, out: ourOut, from: bufio.NewReaderSize(ourIn, 1<<20)}
	b.cmd = exec.Command(program, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
		"--hide-scrollbars", "--force-color-profile=srgb", "--remote-debugging-pipe", "--user-data-dir="+profile, "about:blank")
	b.cmd.ExtraFiles = []*os.File{theirIn, theirOut} // 3 and 4 there
	if err := b.cmd.Start(); err != nil {
		t.Skipf("Chromium does not start: %v", err)
	}
	theirIn.Close()
	theirOut.Close()
	t.Cleanup(b.stop)
	if err := b.answers(); err != nil {
		if os.Getenv("BYHEAD_NEEDS_CHROMIUM") != "" {
			t.Fatalf("%s does not start: %v", program, err)
		}
		t.Skipf("%s does not start (%v): that pages open, scrub and play is not tested", program, err)
	}
	var target struct{ TargetID string }
	b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.call(domain+".enable", nil, nil)
	}
	return b
}

// answers asks for the browser's version: a program that is there may be one that only says where to get it.
func (b *browser) answers() error {
	if _, err := b.out.Write([]byte(`{"id":0,"method":"Browser.getVersion"}` + "\x00")); err != nil {
		return err
	}
	b.in.SetReadDeadline(time.Now().Add(2 * time.Minute))
	_, err := b.from.ReadBytes(0)
	return err
}

func (b *browser) stop() {
	b.out.Close() // it ends when its pipe does
	done := make(chan struct{})
	go func() { b.cmd.Wait(); close(done) }()
	select {
	case <-done:
	case <-time.After(10 * time.Second):
		b.cmd.Process.Kill()
		<-done
	}
	b.in.Close()
}

// message is anything that comes: an answer, or an event.
type message struct {
	ID     int
	Method string
	Params json.RawMessage
	Result json.RawMessage
	Error  *struct{ Message string }
}

// call does one thing, and takes the events that come meanwhile.
func (b *browser) call(method string, params, result any) {
	b.t.Helper()
	b.last++
	text, err := json.Marshal(struct {
		ID        int    `json:"id"`
		Method    string `json:"method"`
		Params    any    `json:"params,omitempty"`
		SessionID string `json:"sessionId,omitempty"`
	}{b.last, method, params, b.session})
	if err != nil {
		b.t.Fatal(err)
	}
	if _, err := b.out.Write(append(text, 0)); err != nil {
		b.t.Fatalf("%s: Chromium does not listen: %v", method, err)
	}
	for {
		m := b.read(method)
		if m.ID != b.last {
			b.event(m)
			continue
		}
		if m.Error != nil {
			b.t.Fatalf("%s: %s", method, m.Error.Message)
		}
		if result != nil {
			if err := json.Unmarshal(m.Result, result); err != nil {
				b.t.Fatalf("%s: %v", method, err)
			}
		}
		return
	}
}

func (b *browser) read(waiting string) (m message) {
	b.t.Helper()
	b.in.SetReadDeadline(time.Now().Add(2 * time.Minute))
	line, err := b.from.ReadBytes(0)
	if err != nil {
		b.t.Fatalf("%s: Chromium says nothing: %v", waiting, err)
	}
	if err := json.Unmarshal(line[:len(line)-1], &m); err != nil {
		b.t.Fatalf("%s: %v", waiting, err)
	}
	return m
}

// event keeps what should not happen: errors and warnings of the console, exceptions, requests for anything but the page.
func (b *browser) event(m message) {
	switch m.Method {
	case "Page.loadEventFired":
		b.loaded = true
	case "Runtime.exceptionThrown":
		var p struct {
			ExceptionDetails struct{ Exception struct{ Description string } }
		}
		json.Unmarshal(m.Params, &p)
		b.faults = append(b.faults, p.ExceptionDetails.Exception.Description)
	case "Log.entryAdded":
		b.faults = append(b.faults, string(m.Params))
	case "Runtime.consoleAPICalled":
		if s := string(m.Params); strings.Contains(s, `"type":"error"`) || strings.Contains(s, `"type":"warning"`) {
			b.faults = append(b.faults, s)
		}
	case "Network.requestWillBeSent":
		var r struct{ Request struct{ URL string } }
		json.Unmarshal(m.Params, &r)
		if !strings.HasPrefix(r.Request.URL, "file:") && !strings.HasPrefix(r.Request.URL, "data:") && r.Request.URL != "about:blank" {
			b.faults = append(b.faults, "a request for "+r.Request.URL)
		}
	}
}

// open opens a file and waits until it is loaded. size: of the window in CSS pixels; scheme: light or dark.
func (b *browser) open(path string, wide, high int, scheme string) {
	b.t.Helper()
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": wide < 600}, nil)
	b.call("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
	b.loaded, b.faults = false, nil
	b.call("Page.navigate", map[string]any{"url": "file://" + path}, nil)
	for !b.loaded {
		b.event(b.read("loading"))
	}
	b.settle()
}

// settle waits for two frames to be drawn.
func (b *browser) settle() {
	b.t.Helper()
	b.eval("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))")
}

// eval gives what an expression comes to in the page, a promise's value where it is one.
func (b *browser) eval(expression string) any {
	b.t.Helper()
	var out struct {
		Result           struct{ Value any }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	b.call("Runtime.evaluate", map[string]any{"expression": expression, "awaitPromise": true, "returnByValue": true}, &out)
	if e := out.ExceptionDetails; e != nil {
		b.t.Fatalf("%s: %s %s", expression, e.Text, e.Exception.Description)
	}
	return out.Result.Value
}

// text is what an expression comes to, as text.
func (b *browser) text(expression string) string {
	b.t.Helper()
	return fmt.Sprint(b.eval(expression))
}

// press types a key, by its DOM name.
func (b *browser) press(key string) {
	b.t.Helper()
	for _, kind := range []string{"keyDown", "keyUp"} {
		b.call("Input.dispatchKeyEvent", map[string]any{"type": kind, "key": key, "code": key}, nil)
	}
	b.settle()
}

// shoot takes a picture of the whole page into a file, or of what the window shows.
func (b *browser) shoot(path string, whole bool) {
	b.t.Helper()
	var out struct{ Data string }
	b.call("Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": whole}, &out)
	data, err := base64.StdEncoding.DecodeString(out.Data)
	if err == nil {
		err = os.WriteFile(path, data, 0o666)
	}
	if err != nil {
		b.t.Fatal(err)
	}
}
