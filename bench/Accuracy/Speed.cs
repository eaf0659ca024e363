using System.Diagnostics;
using Whetwright.Core.Targets;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Accuracy;

/// <summary>A reading's time against the decode of the same file, same run, interleaved; medians.</summary>
internal static class Speed
{
    public static void Print(string path, TargetSheet target)
    {
        byte[] bytes = File.ReadAllBytes(path);
        var decode = new List<double>();
        var read = new List<double>();
        var cpuDecode = new List<double>();
        var cpuRead = new List<double>();
        for (int i = 0; i < 40; i++)
        {
            TimeSpan cpu = Process.GetCurrentProcess().TotalProcessorTime;
            var watch = Stopwatch.StartNew();
            using Picture picture = Picture.Decode(bytes);
            double decoded = watch.Elapsed.TotalMilliseconds;
            TimeSpan half = Process.GetCurrentProcess().TotalProcessorTime;
            _ = PhotoReader.Read(new() { First = new(picture), Target = target, Laser = Whetwright.Sight.Marks.LaserColour.Green });
            if (i < 20)
                continue;
            cpuDecode.Add((half - cpu).TotalMilliseconds);
            cpuRead.Add((Process.GetCurrentProcess().TotalProcessorTime - half).TotalMilliseconds);
            decode.Add(decoded);
            read.Add(watch.Elapsed.TotalMilliseconds - decoded);
        }

        cpuDecode.Sort();
        cpuRead.Sort();
        double cpuD = cpuDecode[cpuDecode.Count / 2], cpuR = cpuRead[cpuRead.Count / 2];
        Console.WriteLine($"processor time, medians: decode {cpuD:0} ms (least {cpuDecode[0]:0}), reading after it {cpuR:0} ms (least {cpuRead[0]:0}); whole over decode {(cpuD + cpuR) / cpuD:0.00}, of least {(cpuDecode[0] + cpuRead[0]) / cpuDecode[0]:0.00}");
        decode.Sort();
        read.Sort();
        Console.WriteLine($"decode {decode[decode.Count / 2]:0} ms (least {decode[0]:0}), reading after it {read[read.Count / 2]:0} ms (least {read[0]:0}), ratio of medians {read[read.Count / 2] / decode[decode.Count / 2]:0.0}, of least {read[0] / decode[0]:0.0}");
    }
}
