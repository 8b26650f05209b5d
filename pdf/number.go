package pdf

import (
	"math"
	"strconv"
	"unicode/utf16"
)

// appendNumber writes a number with at most decimals digits after the point and no idle zeros.
// Numbers that PDF can't hold (NaN, infinite, beyond a million) are written as 0 and never reached:
// pages refuse them first.
func appendNumber(b []byte, v float64, decimals int) []byte {
	scale := [...]float64{1, 10, 100, 1000, 10000, 100000}[decimals]
	n := int64(math.Floor(math.Abs(v)*scale + 0.5))
	if n == 0 {
		return append(b, '0')
	}
	if v < 0 {
		b = append(b, '-')
	}
	whole, rest := n/int64(scale), n%int64(scale)
	if whole > 0 || rest == 0 {
		b = strconv.AppendInt(b, whole, 10)
	}
	if rest == 0 {
		return b
	}
	b = append(b, '.')
	for unit := int64(scale) / 10; rest > 0; unit /= 10 {
		b = append(b, byte('0'+rest/unit))
		rest %= unit
	}
	return b
}

const hexDigits = "0123456789ABCDEF"

func appendHex16(b []byte, v uint16) []byte {
	return append(b, hexDigits[v>>12], hexDigits[v>>8&15], hexDigits[v>>4&15], hexDigits[v&15])
}

// appendString writes a text string: in brackets if it is plain ASCII, else as UTF-16BE with its mark.
func appendString(b []byte, text string) []byte {
	plain := true
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			plain = false
			break
		}
	}
	if !plain {
		b = append(b, "<FEFF"...)
		for _, unit := range utf16.Encode([]rune(text)) {
			b = appendHex16(b, unit)
		}
		return append(b, '>')
	}
	b = append(b, '(')
	for i := range len(text) {
		switch c := text[i]; c {
		case '(', ')', '\\':
			b = append(b, '\\', c)
		default:
			b = append(b, c)
		}
	}
	return append(b, ')')
}

func appendRef(b []byte, object int) []byte {
	b = strconv.AppendInt(b, int64(object), 10)
	return append(b, " 0 R"...)
}
