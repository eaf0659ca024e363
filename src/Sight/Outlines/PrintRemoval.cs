using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The photo with printed lines and their words painted over with the paper beside them, so that neither the outline nor the line of the edge runs
/// to them. Only what is as dark as ink is there painted: steel, darker or brighter, and what hides the print stay as they are.
/// </summary>
internal static class PrintRemoval
{
    /// <summary>Step of the strip that is painted, mm.</summary>
    private const double StepMm = 0.1;

    /// <summary>Half the strip's width, mm: a line, its words 6 mm off and their surroundings.</summary>
    private const double HalfWidthMm = 9;

    /// <summary>Half a line's width with its blur; the paper beside is taken from there to <see cref="PaperMm"/>, mm. Chosen.</summary>
    private const double LineMm = 0.7, PaperMm = 1.1;

    /// <summary>Widest stroke of a letter with its blur, cells of the strip. Chosen: 3.1 mm, what closes the round of a letter too.</summary>
    private const int LetterCells = 31;

    /// <summary>Ink is darker than the middle of its line by this factor at most. Chosen.</summary>
    private const double Darkest = 1.8;

    /// <summary>The photo painted over; null where nothing printed was found. Belongs to the caller.</summary>
    public static Picture? Of(Picture photo, LensMap map, Point2 sizeMm)
    {
        (IReadOnlyList<PrintedLine> lines, Mat? level) = MatField.Print(photo, map, sizeMm);
        using (level)
        {
            if (lines.Count == 0 || level is null)
                return null;
            Mat bgr = photo.Bgr.Clone();
            foreach (PrintedLine line in lines)
                new Strip(line, map, level, bgr).PaintOver();
            return Picture.Own(bgr);
        }
    }

    /// <summary>The photo along a line, drawn flat.</summary>
    private sealed class Strip
    {
        private readonly PrintedLine _line;
        private readonly LensMap _map;
        private readonly Mat _bgr;
        private readonly double _fromMm;
        private readonly int _columns;
        private readonly int _rows;
        private readonly int _middle;
        private readonly Vec3f[] _tone;
        private readonly Vec3f[] _level;
        private readonly float[] _mean;
        private readonly Vec3f[] _painted;

        public Strip(PrintedLine line, LensMap map, Mat level, Mat bgr)
        {
            (_line, _map, _bgr) = (line, map, bgr);
            _fromMm = ((line.From + 0.5) * MatField.StepMm) - 2;
            _columns = (int)((((line.To - line.From) * MatField.StepMm) + 4) / StepMm);
            _middle = (int)(HalfWidthMm / StepMm);
            _rows = (2 * _middle) + 1;
            float[] x = new float[_columns * _rows];
            float[] y = new float[x.Length];
            _level = new Vec3f[x.Length];
            for (int i = 0; i < x.Length; i++)
            {
                Point2 mm = OnMat(i % _columns, i / _columns);
                Point2 px = map.ToPhoto(mm);
                (x[i], y[i]) = ((float)px.X, (float)px.Y);
                _level[i] = level.At<Vec3f>(Math.Clamp((int)(mm.Y / MatField.StepMm), 0, level.Rows - 1), Math.Clamp((int)(mm.X / MatField.StepMm), 0, level.Cols - 1));
            }

            using var mx = new Mat(_rows, _columns, MatType.CV_32FC1);
            using var my = new Mat(_rows, _columns, MatType.CV_32FC1);
            mx.SetArray(x);
            my.SetArray(y);
            using Mat drawn = new();
            Cv2.Remap(bgr, drawn, mx, my, InterpolationFlags.Linear, BorderTypes.Replicate);
            drawn.ConvertTo(drawn, MatType.CV_32FC3, 1, MatField.Foot);
            Cv2.Log(drawn, drawn);
            drawn.GetArray(out _tone);
            _mean = [.. _tone.Select(t => (float)PaperTones.Of(t))];
            _painted = [.. _tone];
        }

        public void PaintOver()
        {
            double depth = PaintLine();
            foreach (WordRow words in _line.Words)
                PaintWords(words, depth);
            WriteBack();
        }

        /// <summary>Gives how dark the line is in the photo, natural logarithm.</summary>
        private double PaintLine()
        {
            (Vec3f[] up, bool[] paperUp) = Beside(-1);
            (Vec3f[] down, bool[] paperDown) = Beside(1);
            double[] dips = [.. Enumerable.Range(0, _columns).Where(c => paperUp[c] && paperDown[c]).Select(c => Math.Min(PaperTones.Of(up[c]), PaperTones.Of(down[c])) - _mean[At(c, 0)]).Where(d => d > PaperTones.LeastDip).Order()];
            double depth = dips.Length == 0 ? _line.Depth : dips[dips.Length / 2];
            int half = (int)(LineMm / StepMm);
            for (int c = 0; c < _columns; c++)
            {
                if (!paperUp[c] && !paperDown[c])
                    continue;
                double difference = PaperTones.Of(down[c]) - PaperTones.Of(up[c]);
                bool both = paperUp[c] && paperDown[c] && Math.Abs(difference) < 2 * PaperTones.Alike;
                double side = !paperUp[c] || (paperDown[c] && difference > 0) ? 1 : 0;
                for (int d = -half; d <= half; d++)
                {
                    int at = At(c, d);
                    Vec3f paper = Mix(up[c], down[c], both ? (d + half + 1) / (2.0 * (half + 1)) : side);
                    double dark = PaperTones.Of(paper) - _mean[at];
                    if (dark > 0 && dark < Darkest * depth)
                        _painted[at] = paper;
                }
            }

            return depth;
        }

        private void PaintWords(WordRow words, double depth)
        {
            using Mat tones = new(_rows, _columns, MatType.CV_32FC3);
            tones.SetArray(_painted);
            using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(LetterCells, LetterCells));
            using Mat closed = new();
            Cv2.MorphologyEx(tones, closed, MorphTypes.Close, disc);
            closed.GetArray(out Vec3f[] paper);
            (int near, int far) = (Math.Min(words.Near, words.Far), Math.Max(words.Near, words.Far));
            (int first, int last) = ((int)((near - 1.5) * MatField.StepMm / StepMm), (int)((far + 1.5) * MatField.StepMm / StepMm));
            for (int c = 0; c < _columns; c++)
            {
                int cell = (int)Math.Round(((_fromMm + (c * StepMm)) / MatField.StepMm) - 0.5) - _line.From;
                if (cell < 0 || cell >= words.Columns.Length || !words.Columns[cell])
                    continue;
                for (int d = first; d <= last; d++)
                {
                    int at = At(c, d);
                    double dark = PaperTones.Of(paper[at]) - _mean[at];
                    if (dark > 0 && dark < Darkest * depth && PaperTones.IsPaper(paper[at], _level[at]))
                        _painted[at] = paper[at];
                }
            }
        }

        /// <summary>The paper along one side, and whether it is bare there.</summary>
        private (Vec3f[] Tone, bool[] Bare) Beside(int side)
        {
            const int along = 5;
            var tone = new Vec3f[_columns];
            bool[] bare = new bool[_columns];
            (int near, int far) = ((int)(LineMm / StepMm) + 1, (int)(PaperMm / StepMm));
            for (int c = 0; c < _columns; c++)
            {
                double[] sum = new double[3];
                int n = 0;
                for (int k = Math.Max(0, c - along); k <= Math.Min(_columns - 1, c + along); k++)
                {
                    for (int d = near; d <= far; d++)
                    {
                        Vec3f t = _tone[At(k, side * d)];
                        (sum[0], sum[1], sum[2], n) = (sum[0] + t.Item0, sum[1] + t.Item1, sum[2] + t.Item2, n + 1);
                    }
                }

                tone[c] = new((float)(sum[0] / n), (float)(sum[1] / n), (float)(sum[2] / n));
                bare[c] = PaperTones.IsPaper(tone[c], _level[At(c, side * near)]);
            }

            return (tone, bare);
        }

        private void WriteBack()
        {
            Point2[] corners = [.. new[] { (0, 0), (_columns - 1, 0), (0, _rows - 1), (_columns - 1, _rows - 1) }.Select(p => _map.ToPhoto(OnMat(p.Item1, p.Item2)))];
            (int left, int right) = ((int)Math.Max(0, corners.Min(p => p.X)), (int)Math.Min(_bgr.Width - 1, corners.Max(p => p.X)));
            (int top, int bottom) = ((int)Math.Max(0, corners.Min(p => p.Y)), (int)Math.Min(_bgr.Rows - 1, corners.Max(p => p.Y)));
            for (int y = top; y <= bottom; y++)
            {
                for (int x = left; x <= right; x++)
                {
                    if (Place(new(x, y)) is not { } place || Brightened(place) is not { } by)
                        continue;
                    Vec3b was = _bgr.At<Vec3b>(y, x);
                    _bgr.Set(y, x, new Vec3b(Brighter(was.Item0, by.Item0), Brighter(was.Item1, by.Item1), Brighter(was.Item2, by.Item2)));
                }
            }
        }

        private static byte Brighter(byte code, float by) => (byte)Math.Clamp(Math.Round(((code + MatField.Foot) * Math.Exp(by)) - MatField.Foot), 0, 255);

        /// <summary>By how much a place was painted brighter, between the strip's cells; null for not at all.</summary>
        private Vec3f? Brightened(Point2 place)
        {
            (int c, int r) = ((int)place.X, (int)place.Y);
            (double a, double b) = (place.X - c, place.Y - r);
            int at = (r * _columns) + c;
            Vec3f By(int i) => new(_painted[i].Item0 - _tone[i].Item0, _painted[i].Item1 - _tone[i].Item1, _painted[i].Item2 - _tone[i].Item2);
            Vec3f by = Mix(Mix(By(at), By(at + 1), a), Mix(By(at + _columns), By(at + _columns + 1), a), b);
            return by.Item0 == 0 && by.Item1 == 0 && by.Item2 == 0 ? null : by;
        }

        private static Vec3f Mix(Vec3f a, Vec3f b, double share)
        {
            float Of(float u, float v) => (float)((u * (1 - share)) + (v * share));
            return new(Of(a.Item0, b.Item0), Of(a.Item1, b.Item1), Of(a.Item2, b.Item2));
        }

        private int At(int column, int fromLine) => ((_middle + fromLine) * _columns) + column;

        private double LineMmAt(double alongMm) => (_line.Row0 + (_line.Slope * ((alongMm / MatField.StepMm) - 0.5)) + 0.5) * MatField.StepMm;

        private Point2 OnMat(int column, int row)
        {
            double along = _fromMm + (column * StepMm);
            double across = LineMmAt(along) + ((row - _middle) * StepMm);
            return _line.Down ? new(across, along) : new(along, across);
        }

        /// <summary>Column and row of the strip that a pixel shows; null outside.</summary>
        private Point2? Place(Point2 px)
        {
            Point2 mm = _map.ToSheet(px);
            (double along, double across) = _line.Down ? (mm.Y, mm.X) : (mm.X, mm.Y);
            double column = (along - _fromMm) / StepMm;
            double row = ((across - LineMmAt(along)) / StepMm) + _middle;
            return column < 0 || row < 0 || column >= _columns - 1 || row >= _rows - 1 ? null : new(column, row);
        }
    }
}
