using BenchmarkDotNet.Attributes;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Darkroom;
using Whetwright.Darkroom.Marks;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Speed.Sight;

/// <summary>A whole reading of one 12-megapixel photograph (bytes in, angles out) beside OpenCV's decoding of the same bytes.</summary>
public class ReadingBenchmarks
{
    private readonly byte[] _jpeg;
    private readonly MarkScene _scene = MarkScene.Generate(Difficulty.Normal, 77);

    public ReadingBenchmarks() => _jpeg = new MarkPhotographs(_scene, 4032).Jpeg(PhotoKind.Lit);

    [Benchmark(Baseline = true)]
    public int DecodeByOpenCv()
    {
        using Mat picture = Cv2.ImDecode(_jpeg, ImreadModes.Color);
        return picture.Rows;
    }

    [Benchmark]
    public PhotoReading Read()
    {
        using Picture picture = Picture.Decode(_jpeg);
        return PhotoReader.Read(new PhotoReadRequest
        {
            First = new MountPhotos(picture),
            Target = _scene.Target,
            Distance = MeasuredLength.FromMillimetres(100, 1),
            Laser = LaserColour.Green,
        });
    }
}
