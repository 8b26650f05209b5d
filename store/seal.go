package store

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"

	"filippo.io/age"
)

// ErrSealed is of a backup that needs a passphrase, or another one.
var ErrSealed = errors.New("it is sealed with a passphrase; give the one that it was made with")

// sealedStart is how a file of age's format begins (https://age-encryption.org/v1).
const sealedStart = "age-encryption.org/"

// Seal encrypts what is written with a passphrase, in age's format; an empty passphrase leaves it as it is. Close it to finish.
func Seal(w io.Writer, passphrase string) (io.WriteCloser, error) {
	if passphrase == "" {
		return unsealed{w}, nil
	}
	key, err := age.NewScryptRecipient(passphrase)
	if err != nil {
		return nil, err
	}
	return age.Encrypt(w, key)
}

// unsealed is a writer that there is nothing to close of.
type unsealed struct{ io.Writer }

func (unsealed) Close() error { return nil }

// Unseal reads what Seal wrote, sealed or not.
func Unseal(r io.Reader, passphrase string) (io.Reader, error) {
	b := bufio.NewReader(r)
	start, err := b.Peek(len(sealedStart))
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if !bytes.Equal(start, []byte(sealedStart)) {
		return b, nil
	}
	if passphrase == "" {
		return nil, ErrSealed
	}
	key, err := age.NewScryptIdentity(passphrase)
	if err != nil {
		return nil, err
	}
	plain, err := age.Decrypt(b, key)
	if _, wrong := errors.AsType[*age.NoIdentityMatchError](err); wrong {
		return nil, fmt.Errorf("%w (%w)", ErrSealed, err)
	}
	return plain, err
}
