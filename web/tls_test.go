package web_test

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"io"
	"log/slog"
	"math/big"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/web"
)

// told is what the program tells, while it runs.
type told struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *told) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(b)
}

func (s *told) find(t *testing.T, pattern string) string {
	t.Helper()
	for range 500 {
		s.mu.Lock()
		m := regexp.MustCompile(pattern).FindStringSubmatch(s.b.String())
		s.mu.Unlock()
		if m != nil {
			return m[1]
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("it does not tell where it is")
	return ""
}

// With a certificate of one's own: TLS 1.2 at least, and browsers are told to come by TLS only.
func TestServingOverTLS(t *testing.T) {
	cert, key, roots := certificate(t)
	out := &told{}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() {
		ended <- web.Serve(ctx, web.Options{Listen: "127.0.0.1:0", Cert: cert, Key: key, PublicName: "physics.school.example", Data: t.TempDir(), Out: out,
			Log: slog.New(slog.DiscardHandler), Now: time.Now})
	}()
	port := out.find(t, `https://physics\.school\.example:(\d+)/first#`)
	client := func(most uint16) *http.Client {
		return &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots, ServerName: "physics.school.example", MinVersion: tls.VersionTLS10, MaxVersion: most}}}
	}
	answer, err := client(tls.VersionTLS13).Get("https://127.0.0.1:" + port + "/sign-in")
	must(t, err)
	defer answer.Body.Close()
	page, err := io.ReadAll(answer.Body)
	must(t, err)
	if answer.StatusCode != http.StatusOK || !strings.Contains(string(page), "Sign in as a teacher") || !strings.Contains(answer.Header.Get("Strict-Transport-Security"), "max-age=31536000") {
		t.Error(answer.Status, answer.Header)
	}
	if _, err := client(tls.VersionTLS11).Get("https://127.0.0.1:" + port + "/"); err == nil {
		t.Error("TLS 1.1 is taken")
	}
	stop()
	if err := <-ended; err != nil {
		t.Error("it ended with", err)
	}
}

func certificate(t *testing.T) (cert, key string, roots *x509.CertPool) {
	t.Helper()
	k, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	must(t, err)
	name := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "test"}, DNSNames: []string{"physics.school.example"},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, name, name, &k.PublicKey, k)
	must(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(k)
	must(t, err)
	dir := t.TempDir()
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	must(t, os.WriteFile(cert, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600))
	must(t, os.WriteFile(key, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret}), 0o600))
	roots = x509.NewCertPool()
	c, err := x509.ParseCertificate(der)
	must(t, err)
	roots.AddCert(c)
	return cert, key, roots
}
