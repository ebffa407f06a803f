package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/byhead/byhead/scenarios/study"
)

// recordFile is the file of a spread's records. Every record is written at once and whole, so that whatever ends the program
// leaves whole lines and at most one torn one at the end, which --resume cuts off.
type recordFile struct {
	*os.File
	name string
}

// openRecords opens a file for the records of a study and takes in those that are there already, with resume. nil: no file
// is asked for.
func (a *app) openRecords(name string, resume bool, s *study.Spread, shard study.Shard, tally *study.Tally) (*recordFile, error) {
	if name == "" {
		return nil, nil
	}
	file, err := os.OpenFile(a.path(name), os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, recordsFailed(name, err)
	}
	f := &recordFile{file, name}
	info, err := file.Stat()
	switch {
	case err != nil:
		err = recordsFailed(name, err)
	case !info.Mode().IsRegular():
		err = usage("--records %s is not a file; the name of a file", name)
	case info.Size() > 0 && !resume:
		err = usage("--records %s exists; --resume goes on with it, or another name", name)
	default:
		err = f.takeIn(s, shard, tally)
	}
	if err != nil {
		file.Close()
		return nil, err
	}
	return f, nil
}

// takeIn reads what is there, cuts off a torn line, and leaves the file ready to be written on.
func (f *recordFile) takeIn(s *study.Spread, shard study.Shard, tally *study.Tally) error {
	r := study.NewRecordReader(f.name, f)
	err := eachRecord(r, func(record *study.Record) error {
		if err := s.Own(record); err != nil {
			return r.Fault(err, "the records of this study, or another name")
		}
		if !shard.Has(record.Run) {
			return r.Fault(fmt.Errorf("run %d is not of shard %d/%d", record.Run, shard.I, shard.N), "a file for each shard")
		}
		return addRecord(r, tally, record)
	})
	if err != nil && !errors.Is(err, study.ErrTorn) {
		return err
	}
	if errors.Is(err, study.ErrTorn) {
		if err := f.Truncate(r.Whole); err != nil {
			return recordsFailed(f.name, err)
		}
	}
	_, err = f.Seek(r.Whole, io.SeekStart)
	return err
}

// eachRecord gives all records to take, in order.
func eachRecord(r *study.RecordReader, take func(*study.Record) error) error {
	for {
		record, err := r.Next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err == nil {
			err = take(record)
		}
		if err != nil {
			return err
		}
	}
}

// addRecord takes a record into a tally; what does not fit is a fault at its line.
func addRecord(r *study.RecordReader, tally *study.Tally, record *study.Record) error {
	if err := tally.Add(record); err != nil {
		return r.Fault(err, "each run once, of one study")
	}
	return nil
}

// put writes a record in one go.
func (f *recordFile) put(record *study.Record) error {
	line, err := record.Line()
	if err == nil {
		_, err = f.Write(line)
	}
	if err != nil {
		return recordsFailed(f.name, err)
	}
	return nil
}

// close brings all to the disk.
func (f *recordFile) close() error {
	if f == nil {
		return nil
	}
	err := f.Sync()
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return recordsFailed(f.name, err)
	}
	return nil
}

func recordsFailed(name string, err error) error {
	return fmt.Errorf("the records %s cannot be written: %s", name, plain(err))
}
