package scenarios

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"slices"
	"strings"
)

// digest is the SHA-256, in hexadecimal, over the scenario's bytes and then those of every file that it names, in order of
// their paths; before each goes its length in eight bytes, most significant first, so that no two inputs run together to
// the same bytes. Paths are not part of it beyond their being written in the scenario.
func digest(scenario []byte, files []*file) string {
	sum := sha256.New()
	add := func(data []byte) {
		var length [8]byte
		binary.BigEndian.PutUint64(length[:], uint64(len(data)))
		sum.Write(length[:])
		sum.Write(data)
	}
	add(scenario)
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b *file) int { return strings.Compare(a.path, b.path) })
	for _, f := range files {
		add(f.data)
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// derivedDigest is the SHA-256 over the digest of a scenario and the paths and values that were set in it, a line each.
func derivedDigest(base string, words ...string) string {
	sum := sha256.Sum256([]byte(base + "\n" + strings.Join(words, "\n")))
	return hex.EncodeToString(sum[:])
}
