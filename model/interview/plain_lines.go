package interview

import (
	"bufio"
	"context"
	"fmt"
	"io"
)

type line struct {
	text string
	err  error
}

// readLines lets a wait for input end with the context.
func readLines(ctx context.Context, in io.Reader) <-chan line {
	ch := make(chan line)
	go func() {
		defer close(ch)
		r := bufio.NewReaderSize(in, maxLine)
		for {
			text, long, err := readLine(r)
			if long {
				text = ""
			}
			l := line{text: text}
			if err != nil && text == "" {
				l.err = err
			}
			if long {
				l.err = fmt.Errorf("that line is longer than %d letters", maxLine)
			}
			select {
			case ch <- l:
			case <-ctx.Done():
				return
			}
			if err != nil {
				return
			}
		}
	}()
	return ch
}

func readLine(r *bufio.Reader) (text string, long bool, err error) {
	for {
		part, prefix, err := r.ReadLine()
		if len(text)+len(part) > maxLine {
			long = true
		} else {
			text += string(part)
		}
		if err != nil || !prefix {
			return text, long, err
		}
	}
}
