//go:build linux

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// bare is a program that prints a line and does nothing else: what a process
// costs before Telltale does anything.
const bare = "package main\n\nimport \"fmt\"\n\nfunc main() { fmt.Println(\"a plant\") }\n"

// BenchmarkWeighAsAProcess runs the built program as people do, from the start of
// the process to its end, beside a program that only prints. It reports
// milliseconds and peak memory for each answer, and both as multiples of the bare
// program's.
func BenchmarkWeighAsAProcess(b *testing.B) {
	dir := b.TempDir()
	telltale := build(b, filepath.Join(dir, "telltale"), ".")
	source := filepath.Join(dir, "bare.go")
	if err := os.WriteFile(source, []byte(bare), 0o644); err != nil {
		b.Fatal(err)
	}
	bareProgram := build(b, filepath.Join(dir, "bare"), source)
	readings := []string{"weigh", "--stage", "flowering", "stem.markings=purple_blotched", "stem.surface=hairless", "stem.interior=hollow", "inflorescence.type=compound_umbel", "flower.colour=white"}

	var answer, nothing usage
	for b.Loop() {
		answer.add(b, telltale, readings...)
		nothing.add(b, bareProgram)
	}
	n := float64(b.N)
	b.ReportMetric(0, "ns/op") // the sum of both says nothing
	b.ReportMetric(answer.wall.Seconds()*1000/n, "ms/answer")
	b.ReportMetric(answer.cpu.Seconds()*1000/n, "cpu-ms/answer")
	b.ReportMetric(answer.peak, "peak-MB")
	b.ReportMetric(answer.wall.Seconds()/nothing.wall.Seconds(), "x-bare-time")
	b.ReportMetric(answer.peak/nothing.peak, "x-bare-memory")
}

// usage is what runs of a program took: time, processor time, and the most
// memory that one run held, in MB.
type usage struct {
	wall, cpu time.Duration
	peak      float64
}

func (u *usage) add(b *testing.B, program string, args ...string) {
	b.Helper()
	cmd := exec.Command(program, args...)
	start := time.Now()
	if err := cmd.Run(); err != nil {
		b.Fatal(err)
	}
	u.wall += time.Since(start)
	u.cpu += cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	if r, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		u.peak = max(u.peak, float64(r.Maxrss)/1024) // Linux counts in kB
	}
}

func build(b *testing.B, program, source string) string {
	b.Helper()
	if out, err := exec.Command("go", "build", "-o", program, source).CombinedOutput(); err != nil {
		b.Fatalf("building %s: %v\n%s", source, err, out)
	}
	return program
}
