package film

import (
	"bytes"
	"encoding/binary"
)

// VoiceRate is how many samples a second the voices of a Queue have: enough for speech.
const VoiceRate = 16000

// waveHeader is how a WAV file begins that holds so many samples of one channel, 16 bits each, at VoiceRate.
func waveHeader(samples uint32) []byte {
	b := []byte("RIFF")
	b = binary.LittleEndian.AppendUint32(b, 36+2*samples)
	b = append(b, "WAVEfmt "...)
	b = binary.LittleEndian.AppendUint32(b, 16)
	b = binary.LittleEndian.AppendUint16(b, 1) // PCM
	b = binary.LittleEndian.AppendUint16(b, 1) // channel
	b = binary.LittleEndian.AppendUint32(b, VoiceRate)
	b = binary.LittleEndian.AppendUint32(b, 2*VoiceRate)
	b = binary.LittleEndian.AppendUint16(b, 2)
	b = binary.LittleEndian.AppendUint16(b, 16)
	b = append(b, "data"...)
	return binary.LittleEndian.AppendUint32(b, 2*samples)
}

// Sound is the media type of a sound file, known by its first bytes; "" if it is none that browsers play.
func Sound(file []byte) string {
	has := func(at int, magic string) bool {
		return len(file) >= at+len(magic) && bytes.Equal(file[at:at+len(magic)], []byte(magic))
	}
	switch {
	case has(0, "\x1a\x45\xdf\xa3"):
		return "audio/webm"
	case has(0, "OggS"):
		return "audio/ogg"
	case has(4, "ftyp"):
		return "audio/mp4"
	case has(0, "RIFF") && has(8, "WAVE"):
		return "audio/wav"
	case has(0, "fLaC"):
		return "audio/flac"
	case has(0, "ID3"), len(file) > 1 && file[0] == 0xff && file[1]&0xe6 == 0xe2: // a frame of layer III
		return "audio/mpeg"
	}
	return ""
}
