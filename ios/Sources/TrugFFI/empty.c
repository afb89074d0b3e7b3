// A target of C needs a source. All that it gives is the generated header in include/.
