package data

import (
	"encoding/json"
	"strconv"

	"corerod/parts/subject"
)

// number writes a float with at most 12 significant digits, and zero without a sign.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) {
	v, err := strconv.ParseFloat(strconv.FormatFloat(float64(n), 'g', 12, 64), 64)
	if err != nil {
		return nil, err
	}
	return json.Marshal(v + 0) // + 0 turns a negative zero into zero
}

func optional(o subject.Optional) *number {
	if !o.Known {
		return nil
	}
	v := number(o.Value)
	return &v
}

// anyJSON gives numbers their 12 digits; text and booleans stay.
func anyJSON(v any) any {
	if f, ok := v.(float64); ok {
		return number(f)
	}
	return v
}
