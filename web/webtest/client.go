package webtest

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// A Client is a browser without scripts. It keeps cookies, sends what browsers send along, and follows a redirect after
// a form.
type Client struct {
	T    testing.TB
	URL  string
	HTTP *http.Client
}

// Values are what is filled in, by label or by name.
type Values map[string]string

// Get opens a page, and follows where it leads.
func (c *Client) Get(path string) *Page {
	c.T.Helper()
	return c.follow(c.Do(http.MethodGet, path, "", nil))
}

// Post sends a form, and follows where it leads.
func (c *Client) Post(path string, form url.Values) *Page {
	c.T.Helper()
	return c.follow(c.Do(http.MethodPost, path, "application/x-www-form-urlencoded", strings.NewReader(form.Encode())))
}

// Do sends one request and follows nothing.
func (c *Client) Do(method, path, kind string, body io.Reader) *Page {
	c.T.Helper()
	r, err := http.NewRequestWithContext(c.T.Context(), method, c.at(path), body)
	if err != nil {
		c.T.Fatal(err)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	r.Header.Set("Sec-Fetch-Dest", "document")
	return c.Send(r)
}

// Send sends a request as it is.
func (c *Client) Send(r *http.Request) *Page {
	c.T.Helper()
	answer, err := c.HTTP.Do(r)
	if err != nil {
		c.T.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		c.T.Fatal(err)
	}
	p := &Page{c: c, Status: answer.StatusCode, Header: answer.Header, Path: answer.Request.URL.Path, Body: string(body)}
	if strings.HasPrefix(answer.Header.Get("Content-Type"), "text/html") {
		if p.Root, err = html.Parse(bytes.NewReader(body)); err != nil {
			c.T.Fatal(err)
		}
	}
	return p
}

func (c *Client) at(path string) string {
	if strings.HasPrefix(path, "http") {
		return path
	}
	return c.URL + path
}

func (c *Client) follow(p *Page) *Page {
	c.T.Helper()
	for range 5 {
		to := p.Header.Get("Location")
		if p.Status < 300 || p.Status > 399 || to == "" {
			return p
		}
		p = c.Do(http.MethodGet, to, "", nil)
	}
	c.T.Fatalf("%s leads on and on", p.Path)
	return nil
}

// Upload sends a form with a file, and follows where it leads.
func (c *Client) Upload(path string, form Values, field, name string, content []byte) *Page {
	c.T.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for k, v := range form {
		w.WriteField(k, v)
	}
	f, err := w.CreateFormFile(field, name)
	if err != nil {
		c.T.Fatal(err)
	}
	f.Write(content)
	w.Close()
	return c.follow(c.Do(http.MethodPost, path, w.FormDataContentType(), &b))
}
